//! What the two bars of a printed page measured.
//!
//! A printer that fits the page prints at 94 to 97 percent (trade knowledge,
//! from memory). Each direction has a factor of its own, measured over drawn,
//! and is corrected by it. Factors more than half a percent apart are measured
//! again before they are believed (common practice for card templates, no
//! source); one outside 0.9 to 1.1 is no printer's stretch and is refused.

use crate::finding::Stop;
use crate::quantity::PaperLength;

/// Length of the bar along the width of the page: 4 in.
#[must_use]
pub fn bar_across() -> PaperLength {
    PaperLength::inches(4.0)
}

/// Length of the bar along the height of the page: 100 mm.
#[must_use]
pub fn bar_up() -> PaperLength {
    PaperLength::millimetres(100.0)
}

/// Factors further apart than this are measured again.
const APART: f64 = 0.005;
/// Factors a printer can have.
const RANGE: (f64, f64) = (0.9, 1.1);

/// What a printer does to a length, in each direction: printed over drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintCheck {
    /// Along the width of the page.
    pub across: f64,
    /// Along its height.
    pub up: f64,
}

impl Default for PrintCheck {
    /// A printer that does as it is told.
    fn default() -> Self {
        Self { across: 1.0, up: 1.0 }
    }
}

impl PrintCheck {
    /// The factors of what the bars measured. `again` says that they were
    /// measured twice.
    ///
    /// # Errors
    /// When a factor lies outside 0.9 to 1.1, or the two lie more than half a
    /// percent apart and were measured only once.
    pub fn measured(across: PaperLength, up: PaperLength, again: bool) -> Result<Self, Stop> {
        let check = Self { across: across / bar_across(), up: up / bar_up() };
        for (factor, bar) in [(check.across, "4.000 in"), (check.up, "100.0 mm")] {
            if !(RANGE.0..=RANGE.1).contains(&factor) {
                return Err(refused(
                    format!("the {bar} bar would be printed at {:.1} percent", factor * 100.0),
                    "look at the unit, and at the page setting: no printer stretches that far",
                ));
            }
        }
        if check.apart() > APART && !again {
            return Err(refused(
                format!("the bars disagree by {:.2} percent", check.apart() * 100.0),
                "measure both again, on a flat page; if they stay, say that they were measured twice",
            ));
        }
        Ok(check)
    }

    /// How far apart the two factors are.
    #[must_use]
    pub fn apart(self) -> f64 {
        (self.across / self.up - 1.0).abs()
    }

    /// Whether there is nothing to correct.
    #[must_use]
    pub fn is_plain(self) -> bool {
        (self.across - 1.0).abs() < 1e-9 && (self.up - 1.0).abs() < 1e-9
    }
}

/// Bars within this share of what is kept were measured on the same page again.
const SAME: f64 = 0.0015;

/// What the bars of an uncorrected page would measure, from bars measured now.
///
/// Where a check is kept, pages are printed with it, and their bars should
/// measure true: what they are off by comes on top of the check. Bars that
/// measure what is kept already are those of the first, uncorrected page, and
/// change nothing. Without a check, and as a fresh start, the bars count as they
/// are.
#[must_use]
pub fn with_kept(
    kept: Option<(PaperLength, PaperLength)>,
    measured: (PaperLength, PaperLength),
) -> (PaperLength, PaperLength) {
    let Some((across, up)) = kept else { return measured };
    let near = |one: PaperLength, other: PaperLength| (one / other - 1.0).abs() <= SAME;
    let corrected = !near(across, bar_across()) || !near(up, bar_up());
    let same = near(measured.0, across) && near(measured.1, up);
    if !corrected || same {
        return measured;
    }
    (across * (measured.0 / bar_across()), up * (measured.1 / bar_up()))
}

fn refused(what: String, hint: &str) -> Stop {
    Stop::new("checking the print", what, hint)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(millimetres: f64) -> PaperLength {
        PaperLength::millimetres(millimetres)
    }

    #[test]
    fn a_plain_stretch_is_taken() {
        let check = PrintCheck::measured(PaperLength::inches(3.884), mm(97.1), false);
        let check = check.expect("both at 97.1 percent");
        assert!((check.across - 0.971).abs() < 1e-12 && (check.up - 0.971).abs() < 1e-12);
    }

    /// A printer of 97.1 percent: the corrected page measures true and the check
    /// stays; measured half a percent long, it is corrected by that on top.
    #[test]
    fn a_corrected_page_that_measures_true_keeps_its_correction() {
        let kept = (PaperLength::inches(3.884), mm(97.1));
        let (across, up) = with_kept(Some(kept), (PaperLength::inches(4.0), mm(100.0)));
        assert!((across.in_inches() - 3.884).abs() < 1e-12);
        assert!((up.in_millimetres() - 97.1).abs() < 1e-12);
        let (_, up) = with_kept(Some(kept), (PaperLength::inches(4.02), mm(100.5)));
        assert!((up.in_millimetres() - 97.1 * 1.005).abs() < 1e-9);
        let first = with_kept(Some(kept), (PaperLength::inches(3.885), mm(97.1)));
        assert!((first.0.in_inches() - 3.885).abs() < 1e-12, "the first page again");
        let plain = with_kept(None, (PaperLength::inches(3.884), mm(97.1)));
        assert!((plain.0.in_inches() - 3.884).abs() < 1e-12);
    }

    #[test]
    fn bars_that_disagree_are_measured_again() {
        let once = PrintCheck::measured(PaperLength::inches(4.0), mm(99.4), false);
        assert!(once.is_err_and(|stop| stop.to_string().contains("0.60 percent")));
        let twice = PrintCheck::measured(PaperLength::inches(4.0), mm(99.4), true);
        assert!(twice.is_ok());
        assert!(PrintCheck::measured(PaperLength::inches(4.0), mm(99.6), false).is_ok());
    }

    #[test]
    fn a_wrong_unit_is_refused_however_often_it_is_measured() {
        for (across, up) in [(3.5, 100.0), (4.0, 111.0), (101.6, 100.0), (0.0, 100.0)] {
            assert!(PrintCheck::measured(PaperLength::inches(across), mm(up), true).is_err());
        }
        assert!(PrintCheck::measured(mm(f64::NAN), mm(100.0), true).is_err());
    }
}
