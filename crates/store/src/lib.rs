//! Durable files and the memo journal of a run folder.
//!
//! A [`RunFolder`] is held by one process at a time. Files in it are written
//! whole or not at all ([`write_atomic`]); what has been computed is kept in an
//! append-only [`Journal`], from which everything else can be derived again.

mod atomic;
mod crash;
mod error;
mod folder;
mod journal;
mod lock;
mod record;

pub use atomic::write_atomic;
pub use crash::{CrashAt, CrashAtError, Hooks, NoHooks, Point};
pub use error::StoreError;
pub use folder::RunFolder;
pub use journal::{Contents, FORMAT_VERSION, Hash, Journal, Opened, read_journal};
pub use record::Entry;
