//! Ctrl-C and termination: the first signal asks for a clean stop, a second one ends at once.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use signal_hook::consts::{SIGINT, SIGTERM};
use signal_hook::flag;

use crate::exit::Exit;

/// What has been asked for by signals.
pub struct Interrupt {
    /// Set by the first signal.
    pub stop: Arc<AtomicBool>,
    by: Arc<AtomicUsize>,
}

impl Interrupt {
    /// Starts to listen.
    pub fn listen() -> io::Result<Self> {
        let stop = Arc::new(AtomicBool::new(false));
        let by = Arc::new(AtomicUsize::new(0));
        for (signal, exit) in [(SIGINT, Exit::Interrupted), (SIGTERM, Exit::Terminated)] {
            let code = i32::from(exit.code());
            // In this order: a second signal finds the flag set by the first.
            flag::register_conditional_shutdown(signal, code, stop.clone())?;
            flag::register_usize(signal, by.clone(), signal as usize)?;
            flag::register(signal, stop.clone())?;
        }
        Ok(Self { stop, by })
    }

    /// The exit that the signal stands for.
    pub fn exit(&self) -> Exit {
        if self.by.load(Ordering::SeqCst) == SIGTERM as usize {
            Exit::Terminated
        } else {
            Exit::Interrupted
        }
    }
}
