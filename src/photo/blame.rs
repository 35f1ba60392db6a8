//! What is wrong with a marked picture, as far as its own marks and lengths
//! can tell: a mark, a known length, a rectangle that is none or stands off
//! the wall, a picture that is not what it is taken for.
//!
//! Each is judged by leaving it out ([`crate::solve::camera::causes`]). One is
//! named only where chance makes a fall as large in fewer than three of a
//! thousand good pictures, counted over all of its kind; those nearly as likely
//! are named with it, since the marks cannot tell them apart.

use super::marked::Marked;
use super::wiring::{LIKELY_FOCAL, measure};
use crate::finding::{Finding, Subject};
use crate::solve::camera::causes::{Cause, Charge, charges};
use crate::solve::camera::solution::Solution;

/// Who may be at fault.
#[derive(Clone, Debug, PartialEq)]
pub enum Blamed {
    /// A mark, by index.
    Mark(usize),
    /// A known length, by index.
    Known(usize),
    /// Two lengths in a known ratio, by index.
    Alike(usize),
    /// These marks stand in front of the wall, or behind it.
    InFront(Vec<usize>),
    /// A rectangle, by index.
    Rect(usize),
    /// The picture is not whole, or no camera's.
    Axis,
    /// The picture is stretched.
    Stretch,
    /// The focal length.
    Focal,
}

/// One that may be at fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Who.
    pub blamed: Blamed,
    /// Its name.
    pub name: String,
    /// What speaks against it, in one sentence.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// ln of the chance of as much against a good one.
    pub ln_chance: f64,
}

/// What the marks say of each other.
#[derive(Clone, Debug, Default)]
pub struct Verdict {
    /// Those that may be at fault, the likeliest first; none on a good picture.
    pub suspects: Vec<Suspect>,
    /// How many of them the marks cannot tell apart.
    pub alike: usize,
    /// What uncertainties are to be multiplied by once the likeliest are left
    /// out; nothing where no one is named.
    pub spread: Option<f64>,
    /// The answers without each of them, and without each length that nothing
    /// but the focal length expected speaks against: intervals must allow for
    /// them.
    pub without: Vec<Solution>,
    /// Known lengths that nothing checks, by index.
    pub unchecked: Vec<usize>,
}

/// ln of the chance at which a cause of some kind is named, all of the kind
/// together.
const NAMED: f64 = -5.8;
/// From this far behind the likeliest on, in ln, a cause is told apart from it.
const APART: f64 = 2.3;
/// A known length goes before a mark that is no likelier than this, in ln: the
/// mark that carries a wrong length fits badly too.
const CARRIED: f64 = 4.0;
/// From this many standard uncertainties on, a focal length that rests on known
/// lengths alone is unusual, and intervals allow for one of them being wrong.
const UNUSUAL: f64 = 1.1;
/// ln of the chance of as much: two-sided, of a normal number.
const DOUBTED: f64 = -1.3;
/// How well all else must tell a length (1 sigma, relative) for it to be
/// checked: one wrong by a quarter would then stand out.
const CHECKED: f64 = 0.08;

/// Judges a picture.
#[must_use]
pub fn judge(marked: &Marked, solution: &Solution) -> Verdict {
    let groups = groups(marked);
    let marks: Vec<Vec<usize>> = groups.iter().map(|(marks, _)| marks.clone()).collect();
    let foretold = solution.foretold_ties();
    let lengths = marked.known.len();
    let unchecked: Vec<usize> =
        (0..lengths).filter(|&k| lengths > 1 && foretold[k] > CHECKED).collect();
    let weigh = |cause: &Cause| match cause {
        Cause::Tie(_) => DOUBTED,
        _ => NAMED,
    };
    let said = marked.known.len() + marked.alike.len();
    let mut charges = charges(solution, &marks, weigh);
    // What is midway is so by its word.
    charges.retain(|charge| !matches!(charge.cause, Cause::Tie(tie) if tie >= said));
    let is_named = |charge: &&Charge| is_named(marked, solution, groups.len(), charge);
    let best = charges.iter().filter(is_named).map(|one| one.ln_chance).fold(0.0, f64::min);
    let near = |charge: &&Charge| charge.ln_chance < best + APART.max(-0.1 * best);
    let mut named: Vec<&Charge> =
        charges.iter().filter(|one| best < 0.0 && (is_named(one) || near(one))).collect();
    knowns_first(marked, &mut named);
    let near = |charge: &&&Charge| near(charge);
    let alike = named.iter().filter(near).count();
    let doubted = charges.iter().filter(|charge| {
        let doubtful = matches!(charge.cause, Cause::Tie(k) if unchecked.contains(&k));
        doubtful || named.iter().take(alike.max(1)).any(|one| std::ptr::eq(*one, *charge))
    });
    Verdict {
        spread: named
            .iter()
            .take(alike)
            .map(|charge| charge.without.spread())
            .max_by(f64::total_cmp),
        without: doubted.map(|charge| charge.without.clone()).collect(),
        suspects: named.iter().map(|charge| suspect(marked, solution, &groups, charge)).collect(),
        alike,
        unchecked,
    }
}

/// Marks that belong together: corners of a rectangle, ends of a known length
/// between single marks; with the rectangle.
fn groups(marked: &Marked) -> Vec<(Vec<usize>, Option<usize>)> {
    let rects = marked.rects.iter().enumerate();
    let mut groups: Vec<_> = rects.map(|(r, rect)| (rect.corners.to_vec(), Some(r))).collect();
    let is_corner = |mark: &usize| marked.rects.iter().any(|rect| rect.corners.contains(mark));
    for known in &marked.known {
        let ends = marked.rests_on(known.span);
        if !ends.iter().any(is_corner) && !groups.iter().any(|(known, _)| *known == ends) {
            groups.push((ends, None));
        }
    }
    groups
}

/// Whether chance makes as much in few enough good pictures.
fn is_named(marked: &Marked, solution: &Solution, groups: usize, charge: &Charge) -> bool {
    let count = match charge.cause {
        Cause::Mark(_) => marked.marks.len(),
        Cause::Tie(_) => solution.network.ties.len(),
        Cause::Ahead(_) | Cause::Group(_) => 2 * groups,
        Cause::Centre | Cause::Stretch | Cause::Focal => 3,
    };
    charge.ln_chance + (count.max(1) as f64).ln() < NAMED
}

/// A known length stands before the marks that carry it where both are nearly
/// as likely.
fn knowns_first(marked: &Marked, named: &mut Vec<&Charge>) {
    let Some(best) = named.first().map(|charge| charge.ln_chance) else { return };
    let known = named.iter().position(|charge| {
        matches!(charge.cause, Cause::Tie(k) if k < marked.known.len())
            && charge.ln_chance < best + CARRIED.max(-0.25 * best)
    });
    if let Some(at) = known.filter(|_| !matches!(named[0].cause, Cause::Tie(_)))
        && carries(marked, &named[0].cause, &named[at].cause)
    {
        let known = named.remove(at);
        named.insert(0, known);
    }
}

/// Whether the marks of the one carry the length of the other.
fn carries(marked: &Marked, one: &Cause, tie: &Cause) -> bool {
    let Cause::Tie(known) = tie else { return false };
    let ends = marked.rests_on(marked.known[*known].span);
    match one {
        Cause::Mark(mark) => ends.contains(mark),
        Cause::Ahead(marks) | Cause::Group(marks) => marks.iter().any(|mark| ends.contains(mark)),
        Cause::Tie(_) => false,
        Cause::Centre | Cause::Stretch | Cause::Focal => true,
    }
}

fn suspect(
    marked: &Marked,
    solution: &Solution,
    groups: &[(Vec<usize>, Option<usize>)],
    charge: &Charge,
) -> Suspect {
    let (blamed, name, message, hint) = match &charge.cause {
        Cause::Mark(mark) => mark_words(marked, *mark, charge),
        Cause::Tie(tie) if *tie < marked.known.len() => known_words(marked, solution, *tie, charge),
        Cause::Tie(tie) => alike_words(marked, *tie - marked.known.len()),
        Cause::Ahead(marks) => front_words(marked, marks, groups, charge),
        Cause::Group(marks) => rect_words(marked, marks, groups),
        Cause::Centre => axis_words(),
        Cause::Stretch => stretch_words(charge),
        Cause::Focal => (
            Blamed::Focal,
            "the focal length".to_owned(),
            "the focal length that is stated does not agree with the marks".to_owned(),
            "leave it out, unless the picture is a camera's own file and whole".to_owned(),
        ),
    };
    Suspect { blamed, name, message, hint, ln_chance: charge.ln_chance }
}

type Words = (Blamed, String, String, String);

fn mark_words(marked: &Marked, mark: usize, charge: &Charge) -> Words {
    let name = marked.marks[mark].id.clone();
    let [x, y] = marked.marks[mark].at;
    let off = charge.without.sees(mark).map_or(0.0, |[u, v]| (u - x).hypot(v - y));
    let message = format!("{name} lies {off:.1} px from where the other marks have it");
    (Blamed::Mark(mark), name, message, "mark it again".to_owned())
}

fn known_words(marked: &Marked, solution: &Solution, known: usize, charge: &Charge) -> Words {
    let one = &marked.known[known];
    let name = marked.name(one.span);
    let of = measure(&solution.network, marked, one.span);
    let value = charge.without.measure(of).abs();
    let ends = 1.96 * charge.without.sigma(of);
    let message = format!(
        "the known length {name} is said to be {}, but all else makes it {} to {}",
        marked.show(one.value),
        marked.show((value - ends).max(0.0)),
        marked.show(value + ends),
    );
    // What stands in front of the wall shows too long by d / (D - d).
    let ahead = solution.state.axis_distance() * (1.0 - one.value / value);
    let front = if ahead > 0.0 && one.value > 0.7 * value {
        format!(", or see whether it stands about {} in front of the wall", marked.show(ahead))
    } else {
        String::new()
    };
    let hint = format!("measure it again{front}");
    (Blamed::Known(known), name, message, hint)
}

fn alike_words(marked: &Marked, alike: usize) -> Words {
    let one = &marked.alike[alike];
    let name = format!("{} like {}", marked.name(one.a), marked.name(one.b));
    let message = format!(
        "{} and {} do not have the ratio {} in the picture",
        marked.name(one.a),
        marked.name(one.b),
        one.ratio
    );
    (Blamed::Alike(alike), name, message, "count again, or take the ratio out".to_owned())
}

/// What a group of marks is called.
fn group_name(marked: &Marked, marks: &[usize], groups: &[(Vec<usize>, Option<usize>)]) -> String {
    let rect = groups.iter().find(|(known, _)| known == marks).and_then(|(_, rect)| *rect);
    rect.map_or_else(
        || {
            let names: Vec<&str> = marks.iter().map(|&m| marked.marks[m].id.as_str()).collect();
            names.join(" and ")
        },
        |rect| marked.rects[rect].id.clone(),
    )
}

fn front_words(
    marked: &Marked,
    marks: &[usize],
    groups: &[(Vec<usize>, Option<usize>)],
    charge: &Charge,
) -> Words {
    let name = group_name(marked, marks, groups);
    let (ahead, sigma) = charge.ahead.unwrap_or((0.0, 0.0));
    let side = if ahead < 0.0 { "behind the wall" } else { "in front of the wall" };
    let message = format!(
        "{name} fits if it stands about {} (\u{b1} {}) {side}",
        marked.show(ahead.abs()),
        marked.show(1.96 * sigma)
    );
    let hint = "say how far in front it stands, or use marks that lie on the wall".to_owned();
    (Blamed::InFront(marks.to_vec()), name, message, hint)
}

fn rect_words(marked: &Marked, marks: &[usize], groups: &[(Vec<usize>, Option<usize>)]) -> Words {
    let name = group_name(marked, marks, groups);
    let rect = groups.iter().find(|(known, _)| known == marks).and_then(|(_, rect)| *rect);
    let blamed = rect.map_or_else(|| Blamed::InFront(marks.to_vec()), Blamed::Rect);
    let message = format!("{name} is no rectangle on this wall with level and plumb sides");
    (blamed, name, message, "see its corners and their order, or leave it out".to_owned())
}

fn axis_words() -> Words {
    (
        Blamed::Axis,
        "the kind of picture".to_owned(),
        "the optical axis lies far from the middle: the picture seems to be cut on one side"
            .to_owned(),
        "say that it is a print or a part cut out".to_owned(),
    )
}

fn stretch_words(charge: &Charge) -> Words {
    let percent = 100.0 * (charge.without.state.stretch() - 1.0);
    let way = if percent > 0.0 { "in height" } else { "in width" };
    (
        Blamed::Stretch,
        "the kind of picture".to_owned(),
        format!("the picture seems to be stretched {way} by {:.1} percent", percent.abs()),
        "say that it is a print, and mark something round or square".to_owned(),
    )
}

/// The verdict as findings: the suspects that cannot be told apart in one, and
/// what nothing checks.
#[must_use]
pub fn findings(marked: &Marked, solution: &Solution, verdict: &Verdict) -> Vec<Finding> {
    let subject = || Subject::Photo(marked.id.clone());
    let mut list = Vec::new();
    let alike = &verdict.suspects[..verdict.alike.min(verdict.suspects.len())];
    if let Some(first) = alike.first() {
        let others: Vec<&str> = alike[1..].iter().map(|one| one.message.as_str()).collect();
        let message = match others.as_slice() {
            [] => first.message.clone(),
            [first_other, ..] => format!(
                "{}; or {first_other}{}: the marks cannot tell which",
                first.message,
                match others.len() {
                    1 => String::new(),
                    more => format!(", or {} more", more - 1),
                }
            ),
        };
        let hint = format!("{}; until then the intervals allow for it", first.hint);
        list.push(Finding::look(subject(), message, hint));
    }
    list.extend(unchecked(marked, solution, verdict).map(|(message, unusual)| {
        if unusual {
            Finding::look(subject(), message, "give another known length in the same direction")
        } else {
            Finding::note(subject(), message)
        }
    }));
    list
}

/// What is said of lengths that nothing checks, and whether it is unusual.
fn unchecked(marked: &Marked, solution: &Solution, verdict: &Verdict) -> Option<(String, bool)> {
    let names: Vec<String> =
        verdict.unchecked.iter().map(|&known| marked.name(marked.known[known].span)).collect();
    let (names, them) = match names.as_slice() {
        [] => return None,
        [one] => (one.clone(), "it"),
        [one, other] => (format!("{one} and {other}"), "them"),
        [first, .., last] => (format!("{first} to {last}"), "them"),
    };
    if marked.focal.is_some() {
        return Some((format!("nothing checks {names}"), false));
    }
    let widths = solution.state.focal(&solution.network) / solution.network.camera.width;
    let unusual = (widths / LIKELY_FOCAL.0).ln().abs() > UNUSUAL * LIKELY_FOCAL.1;
    let verdict = if unusual {
        ", which would be unusual: a length may be wrong, and the intervals allow for it"
    } else {
        ", as is usual"
    };
    let message = format!(
        "nothing checks {names}, and the focal length rests on {them} alone: {widths:.2} picture \
         widths{verdict}"
    );
    Some((message, unusual))
}
