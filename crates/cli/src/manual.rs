//! `completions` and `man`: what shells and readers of manuals need, made from what is typed.

use clap::CommandFactory;
use clap_complete::Shell;
use clap_mangen::Man;

use crate::args::Arguments;
use crate::exit::Exit;
use crate::failure::Failure;
use crate::output;

const NAME: &str = "tautfield";

/// Prints what a shell needs to complete this program's words.
pub fn completions(shell: Shell) -> Result<Exit, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), NAME, &mut script);
    output::data(&String::from_utf8_lossy(&script))
}

/// Prints the manual page of the program, or of one of its verbs.
pub fn manual(verb: Option<&str>) -> Result<Exit, Failure> {
    let mut whole = Arguments::command();
    whole.build();
    let command = match verb {
        None => whole,
        Some(verb) => match whole.find_subcommand(verb) {
            Some(found) => found.clone(),
            None => {
                return Err(Failure::NoSuchVerb {
                    verb: verb.to_owned(),
                    verbs: words(&whole),
                });
            }
        },
    };
    let mut page = Vec::new();
    Man::new(command)
        .render(&mut page)
        .map_err(Failure::Output)?;
    output::data(&String::from_utf8_lossy(&page))
}

fn words(command: &clap::Command) -> String {
    let verbs: Vec<&str> = command
        .get_subcommands()
        .map(clap::Command::get_name)
        .collect();
    verbs.join(", ")
}
