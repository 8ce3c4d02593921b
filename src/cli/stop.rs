//! What happens when the program is told to stop, by Ctrl-C or by the system: what is half written is
//! removed, and whoever waits is told how to go on.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, Once, PoisonError};

use super::output;
use crate::report::staged;

/// Whether the command that runs comes to an end by itself when Ctrl-C is pressed.
static BY_ITSELF: AtomicBool = AtomicBool::new(false);
static PRESSED: AtomicBool = AtomicBool::new(false);
static LAST_WORDS: Mutex<String> = Mutex::new(String::new());

/// Begins to watch; where the system does not let us, a signal ends the program as it always does.
pub fn watch() {
    static ONCE: Once = Once::new();
    ONCE.call_once(watch_signals);
}

/// From now on the first Ctrl-C is only noted, to be asked for by [`pressed`]; the second ends all.
pub fn only_note() {
    BY_ITSELF.store(true, Ordering::SeqCst);
}

/// Whether Ctrl-C was pressed since [`only_note`].
pub fn pressed() -> bool {
    PRESSED.load(Ordering::SeqCst)
}

/// What is said at the end if the program is stopped from now on; none before this.
pub fn last_words(words: String) {
    *LAST_WORDS.lock().unwrap_or_else(PoisonError::into_inner) = words;
}

/// Removes what is half written and says the last words; the program is to end with what is returned
/// in hand, so that nothing is put in its place meanwhile.
fn clear_up() -> impl Sized {
    let guard = staged::sweep();
    let words = LAST_WORDS.lock().unwrap_or_else(PoisonError::into_inner);
    if !words.is_empty() {
        output::say(&words);
    }
    guard
}

/// Whether this Ctrl-C is only noted.
fn noted() -> bool {
    BY_ITSELF.load(Ordering::SeqCst) && !PRESSED.swap(true, Ordering::SeqCst)
}

#[cfg(unix)]
fn watch_signals() {
    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::iterator::Signals;
    use signal_hook::low_level::emulate_default_handler;
    let Ok(mut signals) = Signals::new([SIGINT, SIGTERM]) else { return };
    std::thread::spawn(move || {
        for signal in signals.forever() {
            if signal == SIGINT && noted() {
                continue;
            }
            let _guard = clear_up();
            // Whoever started the program sees by which signal it ended.
            let _ = emulate_default_handler(signal);
            std::process::abort();
        }
    });
}

#[cfg(not(unix))]
fn watch_signals() {
    let _ = ctrlc::set_handler(|| {
        if !noted() {
            let _guard = clear_up();
            std::process::abort();
        }
    });
}
