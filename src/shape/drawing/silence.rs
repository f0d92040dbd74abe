//! Keeps a crate that gives up on a file from ending the program, and from printing where in its code it did.

use std::cell::Cell;
use std::panic::{PanicHookInfo, UnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::Once;

type Hook = Box<dyn Fn(&PanicHookInfo<'_>) + Send + Sync>;

thread_local! {
    /// Whether what this thread does now may end in a panic that is nobody's business.
    static SILENT: Cell<bool> = const { Cell::new(false) };
}

/// What some work answers, or `None` where it panics; nothing is printed then.
pub(super) fn caught<T>(work: impl FnOnce() -> T + UnwindSafe) -> Option<T> {
    static SET_UP: Once = Once::new();
    SET_UP.call_once(|| set_hook(unless_silent(take_hook())));
    SILENT.set(true);
    let answer = catch_unwind(work);
    SILENT.set(false);
    answer.ok()
}

/// A hook that passes on to another what is not to be kept silent.
fn unless_silent(other: Hook) -> Hook {
    Box::new(move |info| {
        if !SILENT.get() {
            other(info);
        }
    })
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};

    use super::*;

    #[test]
    fn a_panic_that_is_caught_is_not_told_and_any_other_is() {
        const WORDS: &str = "for the test of silence";
        static TOLD: AtomicUsize = AtomicUsize::new(0);
        assert_eq!(caught(|| 7), Some(7));
        let before = take_hook();
        set_hook(Box::new(|info| {
            if info.payload().downcast_ref::<&str>() == Some(&WORDS) {
                TOLD.fetch_add(1, Ordering::SeqCst);
            }
        }));
        set_hook(unless_silent(take_hook()));
        assert_eq!(caught(|| -> u32 { std::panic::panic_any(WORDS) }), None);
        assert_eq!(TOLD.load(Ordering::SeqCst), 0);
        assert!(catch_unwind(|| std::panic::panic_any(WORDS)).is_err());
        assert_eq!(TOLD.load(Ordering::SeqCst), 1);
        set_hook(before);
    }
}
