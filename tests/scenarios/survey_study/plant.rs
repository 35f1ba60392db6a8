//! The twelve slips, planted.

use scantling::survey::{SlipKind, Survey};

use super::draw::{Chance, Drawn, Network, Style};

/// Smallest size, times the root of redundancy, in sigmas.
const CLEAR: f64 = 6.0;

/// A slip of any kind in any reading where it would be clear: its kind, the
/// ids that count as found, and the network with it.
pub(super) fn any(
    chance: &mut Chance,
    clean: &Network,
    survey: &Survey,
) -> Option<(SlipKind, Vec<String>, Network)> {
    for _ in 0..60 {
        let kind = SlipKind::ALL[chance.below(12)];
        if kind == SlipKind::ZeroNotAtZero {
            match pull(clean) {
                Some(planted) => return Some((kind, vec!["zero of pull front".into()], planted)),
                None => continue,
            }
        }
        let at = chance.below(clean.readings.len());
        let reading = &clean.readings[at];
        let Some(wrong) = slip(chance, kind, reading, clean) else { continue };
        let redundancy = survey.readings[at].redundancy.unwrap_or(0.0);
        let size = (value(&wrong) - value(reading)).abs();
        if size * redundancy.sqrt() < CLEAR * reading.sigma {
            continue;
        }
        let mut planted = clean.clone();
        planted.readings[at] = wrong;
        return Some((kind, vec![reading.id.clone()], planted));
    }
    None
}

/// What a reading says, in inches.
fn value(reading: &Drawn) -> f64 {
    use scantling::quantity::{Prototype, Reading, parse};
    if let Some((count, unit)) = reading.count {
        return f64::from(count) * unit + reading.over;
    }
    let text = reading.written();
    let parsed = parse::<Prototype>(&text, &Reading::default());
    parsed.map_or(reading.value, |written| written.length().in_inches())
}

/// The whole pull held at the one-foot mark.
fn pull(clean: &Network) -> Option<Network> {
    let mut planted = clean.clone();
    let mut any = false;
    for reading in planted.readings.iter_mut().filter(|reading| reading.pull.is_some()) {
        reading.value += 12.0;
        any = true;
    }
    any.then_some(planted)
}

fn slip(chance: &mut Chance, kind: SlipKind, reading: &Drawn, network: &Network) -> Option<Drawn> {
    let taped = matches!(reading.method, "tape" | "running-tape") && reading.sigma >= 0.1;
    let plain = reading.count.is_none() && reading.text.is_none();
    let moved = |value: f64| (value > 1.0).then(|| Drawn { value, ..reading.clone() });
    let read = reading.value;
    match kind {
        SlipKind::WholeFoot if taped => {
            let feet = if chance.share() < 0.8 { 12.0 } else { 24.0 };
            moved(if chance.share() < 0.5 { read + feet } else { read - feet })
        }
        SlipKind::DigitsSwapped if plain => text(chance, reading, swapped),
        SlipKind::UpsideDown if plain => text(chance, reading, flipped),
        SlipKind::OneBay => {
            let bay =
                network.bay.filter(|_| reading.of == "length" && reading.method != "record")?;
            moved(if chance.share() < 0.5 { read + bay } else { read - bay })
        }
        SlipKind::FencePost => {
            let (count, unit) = reading.count?;
            let count = if chance.share() < 0.5 { count + 1 } else { count - 1 };
            Some(Drawn { count: Some((count, unit)), ..reading.clone() })
        }
        SlipKind::DecimalFeet if taped && plain && reading.style == Style::FeetInches => {
            let inches = (read % 12.0).round();
            let decimal = format!("{}.{} ft", (read / 12.0).floor(), inches);
            (inches < 12.0).then(|| Drawn { text: Some(decimal), ..reading.clone() })
        }
        SlipKind::QuartersAsTenths if reading.sigma < 0.1 => {
            let quarters = (read * 4.0).round() as i64;
            let wrong = format!("{}.{} in", quarters / 4, quarters % 4);
            (quarters % 4 > 0).then(|| Drawn { text: Some(wrong), ..reading.clone() })
        }
        SlipKind::HalfForWhole if plain => {
            moved(if chance.share() < 0.7 { read / 2.0 } else { read * 2.0 })
        }
        SlipKind::InsideForOutside
            if plain && matches!(reading.of.as_str(), "overall" | "length") =>
        {
            moved(read - 2.0 * [5.5, 8.0, 9.0, 13.0][chance.below(4)])
        }
        SlipKind::Mirrored if reading.pull.is_some() && reading.of != "overall" => {
            moved(network.overall - read)
        }
        SlipKind::MetricForInch if plain => {
            moved(if chance.share() < 0.7 { read * 2.54 } else { read / 2.54 })
        }
        _ => None,
    }
}

fn text(
    chance: &mut Chance,
    reading: &Drawn,
    change: fn(&[char], usize) -> Option<String>,
) -> Option<Drawn> {
    let letters: Vec<char> = reading.written().chars().collect();
    let all: Vec<String> = (0..letters.len()).filter_map(|at| change(&letters, at)).collect();
    let wrong = all.get(chance.below(all.len()))?.clone();
    Some(Drawn { text: Some(wrong), ..reading.clone() })
}

fn swapped(letters: &[char], at: usize) -> Option<String> {
    let next = *letters.get(at + 1)?;
    let both = letters[at].is_ascii_digit() && next.is_ascii_digit() && next != letters[at];
    let mut other = letters.to_vec();
    both.then(|| {
        other.swap(at, at + 1);
        other.into_iter().collect()
    })
}

fn flipped(letters: &[char], at: usize) -> Option<String> {
    let mut other = letters.to_vec();
    other[at] = match letters[at] {
        '6' => '9',
        '9' => '6',
        _ => return None,
    };
    Some(other.into_iter().collect())
}
