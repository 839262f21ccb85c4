//! Islands that run side by side and ask together.
//!
//! Each island is an ordinary function on a thread of its own. Its questions
//! wait until every other island has asked or ended; then all of them are
//! answered as one batch, in the order of the islands. So an island reads like
//! a search by itself, evaluations run on all cores, and nothing depends on
//! which thread was faster.

use std::panic::resume_unwind;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use crate::outcome::{Key, Verdict};

enum Message {
    Ask(Vec<Key>),
    Ended,
}

/// An island's line to the batch. When it is dropped, the island has ended.
pub(crate) struct Line {
    island: usize,
    questions: Sender<(usize, Message)>,
    answers: Receiver<Vec<Verdict>>,
}

/// Nobody answers any more: the search is to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the search was stopped")]
pub(crate) struct HungUp;

impl Line {
    /// Asks for the keys and waits for their verdicts, one each.
    pub(crate) fn ask(&self, keys: Vec<Key>) -> Result<Vec<Verdict>, HungUp> {
        let question = (self.island, Message::Ask(keys));
        self.questions.send(question).map_err(|_| HungUp)?;
        self.answers.recv().map_err(|_| HungUp)
    }
}

impl Drop for Line {
    fn drop(&mut self) {
        // If nobody listens any more, nobody needs to know.
        let _ = self.questions.send((self.island, Message::Ended));
    }
}

/// Runs all islands to their end; `answer` gets the questions of a round, by
/// island, and gives as many verdicts as keys. If it fails, every island finds
/// its line dead, and the failure is handed back once they have ended.
pub(crate) fn in_lockstep<T: Send, Stop>(
    islands: Vec<impl FnOnce(Line) -> T + Send>,
    mut answer: impl FnMut(&[Key]) -> Result<Vec<Verdict>, Stop>,
) -> Result<Vec<T>, Stop> {
    thread::scope(|scope| {
        let (questions, inbox) = channel();
        let mut outboxes = Vec::new();
        let mut handles = Vec::new();
        for (island, run) in islands.into_iter().enumerate() {
            let (outbox, answers) = channel();
            let line = Line {
                island,
                questions: questions.clone(),
                answers,
            };
            outboxes.push(outbox);
            handles.push(scope.spawn(move || run(line)));
        }
        let served = serve(&inbox, outboxes, &mut answer);
        // With the outboxes gone every waiting island finds its line dead.
        let ended: Vec<T> = handles
            .into_iter()
            .map(|handle| handle.join().unwrap_or_else(|cause| resume_unwind(cause)))
            .collect();
        served.map(|()| ended)
    })
}

fn serve<Stop>(
    inbox: &Receiver<(usize, Message)>,
    outboxes: Vec<Sender<Vec<Verdict>>>,
    answer: &mut impl FnMut(&[Key]) -> Result<Vec<Verdict>, Stop>,
) -> Result<(), Stop> {
    let mut running = outboxes.len();
    while running > 0 {
        let round = collect(inbox, running);
        if round.is_empty() {
            break;
        }
        let keys: Vec<Key> = round.iter().flat_map(|(_, keys)| keys).cloned().collect();
        let mut verdicts = answer(&keys)?.into_iter();
        for (island, keys) in &round {
            let part = verdicts.by_ref().take(keys.len()).collect();
            // An island that no longer listens has ended, and says so.
            let _ = outboxes[*island].send(part);
        }
        running = round.len();
    }
    Ok(())
}

/// One message from each running island; the questions among them, by island.
fn collect(inbox: &Receiver<(usize, Message)>, running: usize) -> Vec<(usize, Vec<Key>)> {
    let mut round: Vec<(usize, Vec<Key>)> = inbox
        .iter()
        .take(running)
        .filter_map(|(island, message)| match message {
            Message::Ask(keys) => Some((island, keys)),
            Message::Ended => None,
        })
        .collect();
    round.sort_by_key(|(island, _)| *island);
    round
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Asks `rounds` times for its own number; sums the answers.
    fn asker(number: u32, rounds: u32) -> impl FnOnce(Line) -> Result<f64, HungUp> + Send {
        move |line| {
            let mut sum = 0.0;
            for _ in 0..rounds {
                for verdict in line.ask(vec![vec![number]])? {
                    sum += verdict.objectives().map_or(0.0, |values| values[0]);
                }
            }
            Ok(sum)
        }
    }

    fn echo(keys: &[Key]) -> Vec<Verdict> {
        keys.iter()
            .map(|key| Verdict::Feasible([f64::from(key[0]), 0.0, 0.0]))
            .collect()
    }

    #[test]
    fn rounds_are_in_island_order_until_the_last_has_ended() {
        let islands = vec![asker(5, 1), asker(3, 3), asker(4, 2)];
        let mut rounds = Vec::new();
        let sums = in_lockstep(islands, |keys| {
            rounds.push(keys.iter().map(|key| key[0]).collect::<Vec<_>>());
            Ok::<_, HungUp>(echo(keys))
        });
        assert_eq!(sums, Ok(vec![Ok(5.0), Ok(9.0), Ok(8.0)]));
        assert_eq!(rounds, [vec![5, 3, 4], vec![3, 4], vec![3]]);
    }

    #[test]
    fn a_failure_ends_every_island() {
        let mut rounds = 0;
        let ended = in_lockstep(vec![asker(1, 100), asker(2, 100)], |keys| {
            rounds += 1;
            if rounds > 3 {
                Err("full disk")
            } else {
                Ok(echo(keys))
            }
        });
        assert_eq!(ended, Err("full disk"));
        assert_eq!(rounds, 4);
    }

    #[test]
    #[should_panic(expected = "lost")]
    fn a_panic_in_an_island_is_passed_on() {
        let islands = vec![|line: Line| {
            let _ = line.ask(vec![vec![1]]);
            panic!("lost");
        }];
        let _ = in_lockstep(islands, |keys| Ok::<_, HungUp>(echo(keys)));
    }
}
