//! When the next size will do: the acceptance rules.
//!
//! All figures here are judgement, not standards; the person overrules them by
//! picking stock.

use crate::quantity::ModelLength;

/// How a size is judged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Use {
    /// A lone member: post, beam, brace.
    Lone,
    /// Trim and the like, where too heavy looks like a toy: as a lone member,
    /// but too thin is preferred to too thick.
    Fine,
    /// Boards, battens and courses: the thickness is seen only on edge, the
    /// width again and again.
    Repeated,
    /// A member that a train passes: never over the wanted size.
    BesideTrack,
    /// A core sheet: only the thickness counts, and inside sizes follow it.
    Core,
}

/// What the rules say.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Take it.
    Take,
    /// It will do, but is seen or felt.
    Warn,
    /// Laminate, rip or sand instead.
    Refuse,
}

/// One minute of arc at a viewing distance: what the eye separates.
/// 7.0 thou at 24 in (COMPUTED).
#[must_use]
pub fn minute_of_arc(seen_from: ModelLength) -> ModelLength {
    seen_from * (1.0_f64 / 60.0).to_radians().tan()
}

/// Judges one way across. `error` is stock less wanted.
#[must_use]
pub fn lone(error: ModelLength, wanted: ModelLength) -> Verdict {
    let off = error.abs();
    if off <= (wanted * 0.05).max(ModelLength::thou(3.0)) {
        Verdict::Take
    } else if off <= wanted * 0.10 {
        Verdict::Warn
    } else {
        Verdict::Refuse
    }
}

/// Judges a thickness that is seen only on edge.
#[must_use]
pub fn on_edge(error: ModelLength, seen_from: ModelLength) -> Verdict {
    let least = minute_of_arc(seen_from);
    if error.abs() <= least {
        Verdict::Take
    } else if error.abs() <= least * 2.0 {
        Verdict::Warn
    } else {
        Verdict::Refuse
    }
}

/// Judges a section by its use.
#[must_use]
pub fn judge(
    how: Use,
    error: (ModelLength, ModelLength),
    wanted: (ModelLength, ModelLength),
    seen_from: ModelLength,
) -> Verdict {
    let both = lone(error.0, wanted.0).max(lone(error.1, wanted.1));
    match how {
        Use::Lone | Use::Fine => both,
        Use::Core => lone(error.0, wanted.0),
        Use::Repeated => on_edge(error.0, seen_from).max(lone(error.1, wanted.1)),
        Use::BesideTrack => {
            let slack = ModelLength::thou(0.05);
            if error.0 > slack || error.1 > slack { Verdict::Refuse } else { both }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thou(value: f64) -> ModelLength {
        ModelLength::thou(value)
    }

    /// One minute of arc: 2.9 thou at 10 in, 7.0 at 24, 14.0 at 48 (COMPUTED).
    #[test]
    fn a_minute_of_arc() {
        for (at, least) in [(10.0, 2.9), (12.0, 3.5), (18.0, 5.2), (24.0, 7.0), (48.0, 14.0)] {
            let found = minute_of_arc(ModelLength::inches(at)).in_thou();
            assert!((found - least).abs() < 0.05, "{at}: {found}");
        }
    }

    #[test]
    fn a_lone_member_is_allowed_five_percent_or_three_thou() {
        assert_eq!(lone(thou(2.9), thou(20.0)), Verdict::Take);
        assert_eq!(lone(thou(-4.9), thou(100.0)), Verdict::Take);
        assert_eq!(lone(thou(8.0), thou(100.0)), Verdict::Warn);
        assert_eq!(lone(thou(12.0), thou(100.0)), Verdict::Refuse);
    }

    #[test]
    fn beside_the_track_nothing_may_be_over_size() {
        let wanted = (thou(90.0), thou(90.0));
        let judged = |error| {
            judge(Use::BesideTrack, (thou(error), thou(0.0)), wanted, ModelLength::inches(24.0))
        };
        assert_eq!(judged(1.0), Verdict::Refuse);
        assert_eq!(judged(-1.0), Verdict::Take);
    }
}
