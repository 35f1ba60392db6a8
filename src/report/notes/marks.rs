//! Words and marks of the field notes.

use crate::catalog::methods::Kind;
use crate::report::cell::Cell;
use crate::solve::special::chi_square_tail;
use crate::survey::{DimensionFound, Network};

/// How a dimension is known.
pub(in crate::report) fn kinds(found: &DimensionFound) -> impl Iterator<Item = Cell> {
    found.kinds.iter().map(|it| Cell::worded(kind(*it), it))
}

/// The word for how a dimension is known.
fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Taped => "taped",
        Kind::Paced => "paced",
        Kind::Sighted => "sighted",
        Kind::Counted => "counted",
        Kind::Scaled => "scaled from a photograph",
        Kind::Recorded => "from a record",
        Kind::Assumed => "assumed",
    }
}

/// A standardized residual as a mark on either side of a bar, one sign a
/// standard deviation; beyond the limit the signs change.
///
/// ```text
///    <<|        two under
///      |>       one over
/// !!!!!|        far under
/// ```
pub(super) fn bar(z: f64, limit: f64) -> String {
    let size = z.abs().round().min(5.0) as usize;
    let sign = match (z.abs() > limit, z < 0.0) {
        (true, _) => "!",
        (false, true) => "<",
        (false, false) => ">",
    };
    let marks = sign.repeat(size);
    if z < 0.0 { format!("{marks:>5}|") } else { format!("{:>5}|{marks}", "") }
}

/// The first names, and how many more.
pub(super) fn names(names: &[String]) -> String {
    let shown: Vec<&str> = names.iter().take(3).map(String::as_str).collect();
    match names.len() - shown.len() {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}

/// What chi-square says of the sigmas.
pub(super) fn verdict(network: &Network) -> String {
    if network.degrees_of_all == 0 {
        return "nothing checks it: one more reading would".to_owned();
    }
    if network.degrees == 0 {
        return "nothing left to check".to_owned();
    }
    match network.proud() {
        Some(factor) => format!("sigmas too proud: {factor:.1} times as large would fit"),
        None => {
            let tail = chi_square_tail(network.chi_square, network.degrees as f64);
            format!("they agree ({:.0} percent of good notes do worse)", tail * 100.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bar_tells_side_and_size() {
        assert_eq!(bar(0.2, 3.29), "     |");
        assert_eq!(bar(-1.8, 3.29), "   <<|");
        assert_eq!(bar(1.1, 3.29), "     |>");
        assert_eq!(bar(18.4, 3.29), "     |!!!!!");
    }

    #[test]
    fn long_lists_are_cut() {
        let four: Vec<String> = ["a", "b", "c", "d"].map(str::to_owned).to_vec();
        assert_eq!(names(&four[..2]), "a, b");
        assert_eq!(names(&four), "a, b, c and 1 more");
    }
}
