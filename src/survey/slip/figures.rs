//! Slips of the pen: what else the figures of a text may have been.

/// The text with two neighbouring digits changed over, each way there is.
pub(super) fn swapped(text: &str) -> Vec<String> {
    let letters: Vec<char> = text.chars().collect();
    (1..letters.len())
        .filter(|at| letters[at - 1].is_ascii_digit() && letters[*at].is_ascii_digit())
        .filter(|at| letters[at - 1] != letters[*at])
        .map(|at| {
            let mut other = letters.clone();
            other.swap(at - 1, at);
            other.into_iter().collect()
        })
        .collect()
}

fn turned(digit: char) -> Option<char> {
    match digit {
        '6' => Some('9'),
        '9' => Some('6'),
        '0' | '1' | '8' => Some(digit),
        _ => None,
    }
}

/// The text with a 6 for a 9 or the other way, or a whole figure read upside
/// down.
pub(super) fn upside_down(text: &str) -> Vec<String> {
    let letters: Vec<char> = text.chars().collect();
    let flips = |letter: &char| matches!(letter, '6' | '9');
    let mut all: Vec<String> = Vec::new();
    for at in (0..letters.len()).filter(|at| flips(&letters[*at])) {
        let mut other = letters.clone();
        other[at] = turned(other[at]).unwrap_or(other[at]);
        all.push(other.into_iter().collect());
    }
    if letters.iter().filter(|letter| flips(letter)).count() > 1 {
        all.push(
            letters.iter().map(|c| if flips(c) { turned(*c).unwrap_or(*c) } else { *c }).collect(),
        );
    }
    all.extend(turned_figures(&letters));
    all.retain(|other| other != text);
    all.sort();
    all.dedup();
    all
}

/// Each run of digits that can be read upside down, turned and from behind.
fn turned_figures(letters: &[char]) -> Vec<String> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < letters.len() {
        let run = letters[at..].iter().take_while(|letter| letter.is_ascii_digit()).count();
        if run > 1 {
            let turned: Option<Vec<char>> =
                letters[at..at + run].iter().rev().map(|digit| turned(*digit)).collect();
            all.extend(turned.map(|turned| {
                let (before, after) = (&letters[..at], &letters[at + run..]);
                before.iter().chain(&turned).chain(after).collect::<String>()
            }));
        }
        at += run.max(1);
    }
    all
}

/// `12.6 ft` as feet and inches, 12 ft 6 in; nothing where the text is no
/// decimal of feet that could be.
pub(super) fn feet_and_inches(text: &str) -> Option<String> {
    let number = text.trim().strip_suffix("ft").or_else(|| text.trim().strip_suffix('\''))?.trim();
    let (feet, inches) = number.split_once('.')?;
    let whole: u32 = feet.parse().ok()?;
    let inches: u32 = inches.parse().ok().filter(|inches| *inches < 12)?;
    Some(format!("{whole} ft {inches} in"))
}

/// `10.1 in` as ten and a quarter; nothing where the last figure is no count
/// of quarters.
pub(super) fn quarters(text: &str) -> Option<String> {
    let number = text.trim().strip_suffix("in").or_else(|| text.trim().strip_suffix('"'))?.trim();
    let (before, tenths) = number.rsplit_once('.')?;
    let count: u32 = tenths.parse().ok().filter(|count| (1..=3).contains(count))?;
    Some(format!("{before} {count}/4 in"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_change_over() {
        assert_eq!(swapped("221.0 ft"), ["212.0 ft"]);
        assert_eq!(swapped("84 ft"), ["48 ft"]);
        assert!(swapped("55 in").is_empty());
        assert!(swapped("7 ft").is_empty());
    }

    #[test]
    fn figures_stand_on_their_heads() {
        assert_eq!(upside_down("66 in"), ["69 in", "96 in", "99 in"]);
        assert_eq!(upside_down("18 ft"), ["81 ft"]);
        assert!(upside_down("77 ft").is_empty());
    }

    #[test]
    fn decimals_that_were_none() {
        assert_eq!(feet_and_inches("12.11 ft").as_deref(), Some("12 ft 11 in"));
        assert_eq!(feet_and_inches("12.25 ft"), None);
        assert_eq!(feet_and_inches("12.6 in"), None);
        assert_eq!(quarters("10.3 in").as_deref(), Some("10 3/4 in"));
        assert_eq!(quarters("3 ft 10.1 in").as_deref(), Some("3 ft 10 1/4 in"));
        assert_eq!(quarters("10.5 in"), None);
    }
}
