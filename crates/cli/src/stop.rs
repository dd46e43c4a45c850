//! Being told to stop: what is begun is finished, nothing new is begun. A second signal ends the program at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

/// Whether a signal has asked the program to stop.
#[derive(Debug, Clone, Default)]
pub struct Stop(Arc<AtomicBool>);

impl Stop {
    /// Listens for the signals that ask a program to stop; where that cannot be had, they end it at once as ever.
    pub fn listen() -> Self {
        use signal_hook::consts::{SIGINT, SIGTERM};
        let stop = Self::default();
        for signal in [SIGINT, SIGTERM] {
            // The order matters: the first signal finds nothing asked yet.
            let _ = signal_hook::flag::register_conditional_default(signal, Arc::clone(&stop.0));
            let _ = signal_hook::flag::register(signal, Arc::clone(&stop.0));
        }
        stop
    }

    /// Whether it was asked.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
