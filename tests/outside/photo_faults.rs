//! Faults planted on pictures whose truth is known: who is blamed.
//!
//! A fault counts as one the data can tell where leaving out the true culprit
//! explains what is left; else it must not be blamed on an innocent. Reads the
//! same pictures as `photo_pictures`.

#![expect(clippy::unwrap_used, reason = "a marks file that cannot be read fails the test")]

use scantling::photo::blame::Blamed;
use scantling::photo::lengths::{Effort, run, solve};
use scantling::photo::marked::{Known, Marked, Origin, Span};
use scantling::solve::camera::random::Dice;

use crate::photo_pictures::{CASES, Truth, disturb, from_environment, load};

/// What is planted.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Fault {
    SecondKnown,
    ThirdKnown,
    Contradiction,
    FootOff,
    Mark,
    CarryingMark,
    Turned,
    Crossed,
    Mirrored,
    InFront,
    Stretched,
    Cut,
}

const FAULTS: [Fault; 12] = [
    Fault::SecondKnown,
    Fault::ThirdKnown,
    Fault::Contradiction,
    Fault::FootOff,
    Fault::Mark,
    Fault::CarryingMark,
    Fault::Turned,
    Fault::Crossed,
    Fault::Mirrored,
    Fault::InFront,
    Fault::Stretched,
    Fault::Cut,
];

/// Who must be named.
#[derive(Clone, Debug, PartialEq)]
enum Culprit {
    Known(Vec<usize>),
    Mark(usize),
    Rect(usize),
    /// A rectangle in front of the wall, and the length it carries.
    Front(usize, usize),
    Picture,
}

/// The picture of a case with three known lengths in two rectangles, disturbed.
fn picture(case: usize, dice: &mut Dice) -> Option<(Marked, Truth)> {
    let (mut marked, truth) = load(&CASES[case], 2, false)?;
    let own = marked.rect(CASES[case].known).unwrap_or(0);
    let other = (own + 1) % marked.rects.len();
    let span = Span::Width(other);
    let value = truth.of(&marked, span);
    marked.known.push(Known { span, value, sigma: 0.002 * value });
    marked.known.iter_mut().for_each(|known| known.sigma = 0.002 * known.value);
    Some((disturb(&marked, 1.0, dice), truth))
}

fn plant(marked: &mut Marked, truth: &Truth, fault: Fault, dice: &mut Dice) -> Culprit {
    let sign = if dice.fraction() < 0.5 { -1.0 } else { 1.0 };
    let pick = |n: usize, dice: &mut Dice| (dice.fraction() * n as f64) as usize;
    let push = |marked: &mut Marked, mark: usize, by: f64, dice: &mut Dice| {
        let angle = 6.3 * dice.fraction();
        let [x, y] = marked.marks[mark].at;
        marked.marks[mark].at = [x + by * angle.cos(), y + by * angle.sin()];
        Culprit::Mark(mark)
    };
    let r = pick(marked.rects.len(), dice);
    match fault {
        Fault::SecondKnown => {
            marked.known[1].value *= 1.28;
            Culprit::Known(vec![1])
        }
        Fault::ThirdKnown => {
            marked.known[2].value *= 1.0 + 0.15 * sign;
            Culprit::Known(vec![2])
        }
        Fault::Contradiction => {
            let first = marked.known[0];
            marked.known.push(Known { value: first.value * 1.09, ..first });
            Culprit::Known(vec![0, 3])
        }
        Fault::FootOff => {
            // A foot of a length of six: 17 percent, on one more known length.
            let span = Span::Height((marked.rects.len() - 1).max(1));
            let value = truth.of(marked, span) * (1.0 + sign / 6.0);
            marked.known.push(Known { span, value, sigma: 0.002 * value });
            Culprit::Known(vec![3])
        }
        Fault::Mark => push(marked, 4 * r + pick(4, dice), 8.0, dice),
        Fault::CarryingMark => {
            let mark = marked.rests_on(marked.known[0].span)[pick(4, dice)];
            push(marked, mark, 8.0, dice)
        }
        Fault::Turned => {
            marked.rects[r].corners.rotate_left(1);
            Culprit::Rect(r)
        }
        Fault::Crossed => {
            marked.rects[r].corners.swap(1, 2);
            Culprit::Rect(r)
        }
        Fault::Mirrored => {
            marked.rects[r].corners.reverse();
            Culprit::Rect(r)
        }
        Fault::InFront => {
            // A rectangle without a known length tells nothing of its distance.
            let Span::Width(r) = marked.known[2].span else { unreachable!() };
            let clean = solve(marked).unwrap();
            let ahead = (0.08 + 0.04 * dice.fraction()) * clean.state.axis_distance();
            for k in marked.rects[r].corners {
                let sight = clean.network.sights[k];
                let place = [sight.x, sight.y].map(|at| clean.state.coordinate(at));
                let here = clean.state.project(&clean.network, [place[0], place[1], 0.0]).unwrap();
                let there =
                    clean.state.project(&clean.network, [place[0], place[1], ahead]).unwrap();
                for (k, at) in marked.marks[k].at.iter_mut().enumerate() {
                    *at += there[k] - here[k];
                }
            }
            Culprit::Front(r, 2)
        }
        Fault::Stretched => {
            let by = 1.0 + sign * (0.03 + 0.05 * dice.fraction());
            marked.marks.iter_mut().for_each(|mark| mark.at[1] *= by);
            marked.size[1] = (f64::from(marked.size[1]) * by) as u32;
            Culprit::Picture
        }
        Fault::Cut => {
            // A quarter is gone on the left: the rest is taken for the whole.
            let off = 0.25 * f64::from(marked.size[0]);
            marked.marks.iter_mut().for_each(|mark| mark.at[0] -= off);
            marked.size[0] -= off as u32;
            Culprit::Picture
        }
    }
}

/// Whether a suspect is the culprit.
fn is(culprit: &Culprit, blamed: &Blamed, marked: &Marked) -> bool {
    match (culprit, blamed) {
        (Culprit::Known(list), Blamed::Known(known)) => list.contains(known),
        (Culprit::Mark(mark), Blamed::Mark(blamed)) => mark == blamed,
        (Culprit::Rect(rect), Blamed::Rect(blamed)) => rect == blamed,
        (Culprit::Front(_, known), Blamed::Known(blamed)) => known == blamed,
        (Culprit::Rect(rect) | Culprit::Front(rect, _), Blamed::InFront(marks)) => {
            marked.rects[*rect].corners.to_vec() == *marks
        }
        (Culprit::Picture, Blamed::Axis | Blamed::Stretch) => true,
        _ => false,
    }
}

#[derive(Default)]
struct Score {
    planted: usize,
    first: usize,
    alike: usize,
    listed: usize,
    innocent: usize,
    silent: usize,
    unchecked: usize,
}

impl Score {
    fn add(&mut self, marked: &Marked, culprit: &Culprit) {
        self.planted += 1;
        let outcome = match run(marked, Effort { draws: 0, seed: 1 }) {
            Ok(outcome) => outcome,
            Err(stop) => {
                // Bad corners are refused by the name of their rectangle.
                let named = matches!(culprit, Culprit::Rect(r)
                    if stop.trouble.contains(&format!("rectangle {}:", marked.rects[*r].id)));
                self.first += usize::from(named);
                self.innocent += usize::from(!named);
                return;
            }
        };
        let verdict = &outcome.value.verdict;
        let place = verdict.suspects.iter().position(|s| is(culprit, &s.blamed, marked));
        let doubted = matches!(culprit, Culprit::Known(list)
            if list.iter().any(|known| verdict.unchecked.contains(known)));
        match (place, verdict.suspects.len()) {
            (Some(0), _) => self.first += 1,
            (Some(at), _) if at < verdict.alike => self.alike += 1,
            (Some(_), _) => self.listed += 1,
            (None, _) if doubted => self.unchecked += 1,
            (None, 0) => self.silent += 1,
            (None, _) => {
                if std::env::var_os("TELL").is_some() {
                    println!("{}: {culprit:?}: {}", marked.id, verdict.suspects[0].message);
                }
                self.innocent += 1;
            }
        }
    }

    fn print(&self, name: &str) {
        println!(
            "{name:14} {:5} {:6} {:6} {:7} {:9} {:7} {:9}",
            self.planted,
            self.first,
            self.alike,
            self.listed,
            self.unchecked,
            self.silent,
            self.innocent
        );
    }
}

/// Pictures the faults are planted on: those taken obliquely.
const ON: [usize; 7] = [0, 1, 2, 4, 6, 8, 9];

#[test]
#[ignore = "prints the table of planted faults; a minute"]
fn prints_planted_faults() {
    let each = from_environment("REPEATS", 25);
    println!("fault        planted  first  alike  listed  unchecked  silent  innocent");
    let mut dice = Dice::new(41);
    for fault in FAULTS {
        let mut score = Score::default();
        for k in 0..each {
            let case = ON[k % ON.len()];
            let Some((mut marked, truth)) = picture(case, &mut dice) else { return };
            if !matches!(fault, Fault::Stretched | Fault::Cut)
                && CASES[case].name.ends_with("print")
            {
                marked.origin = Origin::Print;
            }
            let culprit = plant(&mut marked, &truth, fault, &mut dice);
            score.add(&marked, &culprit);
        }
        score.print(&format!("{fault:?}"));
    }
    let (mut blamed, mut clean) = (0, 0);
    for k in 0..12 * each {
        let Some((marked, _)) = picture(k % CASES.len(), &mut dice) else { return };
        let outcome = run(&marked, Effort { draws: 0, seed: 1 }).unwrap();
        clean += 1;
        if let Some(suspect) = outcome.value.verdict.suspects.first() {
            blamed += 1;
            println!("  clean {}: {}", marked.id, suspect.message);
        }
    }
    println!("clean sets: {blamed} of {clean} blamed");
}
