//! How long a search may go on: a number of seconds, or until the person stops
//! it with the interrupt key.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use clap::{Arg, ArgMatches};

/// The longest time that is taken: a week.
const MOST_SECONDS: f64 = 604_800.0;

/// The option that says how long.
pub(super) fn arg() -> Arg {
    Arg::new("seconds")
        .long("seconds")
        .value_name("N")
        .default_value("10")
        .allow_negative_numbers(true)
        .value_parser(seconds)
        .help("Stop with the best found after this long; the interrupt key stops it sooner")
}

fn seconds(text: &str) -> Result<f64, String> {
    let seconds: f64 = text.parse().map_err(|_| "write a number of seconds, as 10 or 0.5")?;
    if (0.0..=MOST_SECONDS).contains(&seconds) {
        return Ok(seconds);
    }
    Err(format!("seconds run from 0 to {MOST_SECONDS:.0}"))
}

/// When a search is to end.
pub(super) struct Until {
    start: Instant,
    most: Duration,
    interrupted: Arc<AtomicBool>,
}

impl Until {
    /// After the seconds said, counted from now.
    pub(super) fn said(matches: &ArgMatches) -> Self {
        let interrupted = Arc::new(AtomicBool::new(false));
        // Where the signal cannot be caught it ends the program, as ever.
        #[cfg(unix)]
        let _ = signal_hook::flag::register(signal_hook::consts::SIGINT, interrupted.clone());
        let seconds = matches.get_one::<f64>("seconds").copied().unwrap_or(10.0);
        Self { start: Instant::now(), most: Duration::from_secs_f64(seconds), interrupted }
    }

    /// After some seconds, counted from now.
    #[cfg(test)]
    pub(super) fn after(seconds: f64) -> Self {
        let most = Duration::from_secs_f64(seconds);
        Self { start: Instant::now(), most, interrupted: Arc::default() }
    }

    /// Whether it is to end now.
    pub(super) fn is_over(&self) -> bool {
        self.interrupted.load(Ordering::Relaxed) || self.start.elapsed() >= self.most
    }

    /// How long it took so far, in seconds.
    pub(super) fn taken(&self) -> f64 {
        self.start.elapsed().as_secs_f64()
    }
}

#[cfg(test)]
mod tests {
    use super::seconds;

    #[test]
    fn only_a_time_is_a_time() {
        assert!(seconds("0.5").is_ok_and(|time| time < 1.0));
        for text in ["nan", "-1", "inf", "1e300", "ten", ""] {
            assert!(seconds(text).is_err(), "{text}");
        }
    }
}
