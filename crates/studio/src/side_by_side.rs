//! Work that a frame waits for, on two threads.

use std::thread;

/// Two pieces of work at the same time, for a frame that waits for both: one of them on a thread of its own. What panics there
/// is done again here.
pub fn side_by_side<A: Send, B>(there: impl Fn() -> A + Sync, here: impl FnOnce() -> B) -> (A, B) {
    thread::scope(|scope| {
        let theirs = scope.spawn(&there);
        let ours = here();
        (theirs.join().unwrap_or_else(|_| there()), ours)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_are_done_and_each_answer_is_its_own() {
        let text = String::from("there");
        assert_eq!(side_by_side(|| text.len(), || "here".len()), (5, 4));
    }
}
