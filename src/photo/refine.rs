//! Marks moved to where the edges of the picture meet.
//!
//! Each side of a rectangle is looked for as an edge near where it was marked,
//! and neighbouring edges are intersected. A hand mark stays where no edge is
//! found, where the move would be long, and where the refined marks disagree
//! with the rest; all of them stay unless the refined set passes the gate.

use super::edge::{Brightness, Line, Missing, Near, Polarity};
use super::lengths::solve;
use super::marked::Marked;
use crate::solve::camera::View;
use crate::solve::camera::solution::Solution;

/// The longest move of a mark, in pixels, however rough the hand: what lies
/// farther is another edge.
pub const LONGEST: f64 = 6.0;

/// Least standard uncertainty of a refined mark in pixels where the floor is
/// lower: edges of demonstration pictures lay 0.05 to 0.4 px from their place.
const LEAST: f64 = 0.4;

/// Standard uncertainty of where an edge ends, as a part of its length: the foot
/// of a wall and its eaves are no drawn lines (common practice, no source).
const SAG: f64 = 0.001;

/// The largest residual, over its own standard uncertainty, that a moved mark
/// may have against the others.
const MISFIT: f64 = 3.0;

/// The longest move, in standard uncertainties of the hand.
const REACH: f64 = 3.0;

/// How much clearer a side must be to go against the other three.
const CLEARER: f64 = 3.0;

/// How much clearer an edge must be with its sides changing than with either.
const CHANGING: f64 = 1.5;

/// Why a mark stays as it was made by hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kept {
    /// It is no corner of a rectangle, or an edge beside it was not found.
    NoEdge,
    /// Two edges beside it are nearly as likely.
    TwoEdges,
    /// The edges meet farther away than the hand may be off.
    Far(f64),
    /// It would not agree with the other marks.
    Misfit,
    /// The refined marks together do not pass the gate.
    Gate,
}

impl Kept {
    /// In words.
    #[must_use]
    pub fn words(self) -> String {
        match self {
            Self::NoEdge => "no edge found beside it".to_owned(),
            Self::TwoEdges => "two edges beside it are as likely".to_owned(),
            Self::Far(move_by) => {
                format!("the edges meet {move_by:.1} px away, which is another edge")
            }
            Self::Misfit => "the edges do not agree with the other marks".to_owned(),
            Self::Gate => "the refined marks together disagree".to_owned(),
        }
    }
}

/// One mark, before and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Move {
    /// Index of the mark.
    pub mark: usize,
    /// Where the hand put it.
    pub old: [f64; 2],
    /// Where the edges meet, if that is taken.
    pub new: Result<[f64; 2], Kept>,
}

/// Marks after refinement.
#[derive(Clone, Debug)]
pub struct Refined {
    /// The picture with the moved marks in it.
    pub marked: Marked,
    /// Every mark, in order.
    pub moves: Vec<Move>,
}

impl Refined {
    /// How many marks were moved.
    #[must_use]
    pub fn count(&self) -> usize {
        self.moves.iter().filter(|m| m.new.is_ok()).count()
    }
}

/// Where edges are looked for.
struct Search {
    view: View,
    /// Starting places of the marks.
    places: Vec<[f64; 2]>,
    /// How far off they may be: standard deviation, and the most, in pixels.
    click: f64,
    reach: f64,
}

/// Refines the marks of a picture.
#[must_use]
pub fn refine(marked: &Marked, light: &Brightness) -> Refined {
    let hand = Refined {
        moves: (0..marked.marks.len())
            .map(|mark| Move { mark, old: marked.marks[mark].at, new: Err(Kept::NoEdge) })
            .collect(),
        marked: marked.clone(),
    };
    let before = solve(marked).ok();
    let first = look(hand, light, &first_search(marked, before.as_ref()));
    let Some((first, solution)) = gated(first, marked) else { return all_kept(marked, Kept::Gate) };
    // What is left is looked for again where the others say that it must be.
    let second = Search {
        view: solution.state.view(&solution.network),
        places: seen(&solution, marked),
        click: 0.7,
        reach: 2.5,
    };
    match gated(look(first.clone(), light, &second), marked) {
        Some((second, _)) if second.count() > first.count() => second,
        _ => first,
    }
}

/// From where the marks are, or where their adjustment puts them if they agree.
fn first_search(marked: &Marked, before: Option<&Solution>) -> Search {
    let click = marked.click.clamp(0.7, 3.0);
    match before {
        Some(solution) => Search {
            view: solution.state.view(&solution.network),
            places: if solution.passes() { seen(solution, marked) } else { hand(marked) },
            click,
            reach: (3.0 * click).min(LONGEST),
        },
        None => Search {
            view: View {
                from_wall: nalgebra::Matrix3::identity(),
                principal: marked.size.map(|side| 0.5 * (f64::from(side) - 1.0)),
                bend: 0.0,
                tall: 1.0,
            },
            places: hand(marked),
            click,
            reach: (3.0 * click).min(LONGEST),
        },
    }
}

fn hand(marked: &Marked) -> Vec<[f64; 2]> {
    marked.marks.iter().map(|mark| mark.at).collect()
}

/// Where an adjusted wall has the marks.
fn seen(solution: &Solution, marked: &Marked) -> Vec<[f64; 2]> {
    let place = |i: usize| solution.sees(i).unwrap_or(marked.marks[i].at);
    (0..marked.marks.len()).map(place).collect()
}

/// Looks for the corners that are not yet moved.
fn look(mut so_far: Refined, light: &Brightness, search: &Search) -> Refined {
    let rects = so_far.marked.rects.clone();
    for rect in &rects {
        if rect.corners.iter().all(|&k| so_far.moves[k].new.is_ok()) {
            continue;
        }
        let side = |i: usize| {
            let ends = [rect.corners[i], rect.corners[(i + 1) % 4]].map(|k| search.places[k]);
            Near::look(light, &search.view, ends, search.click, search.reach)
        };
        let sides = outline(&[0, 1, 2, 3].map(side));
        for (i, &mark) in rect.corners.iter().enumerate() {
            // A second look knows no better which of two edges was meant.
            if matches!(so_far.moves[mark].new, Err(why) if why != Kept::TwoEdges) {
                let corner = corner(sides[(i + 3) % 4], sides[i], search);
                let beside = [(i + 3) % 4, (i + 1) % 4].map(|k| search.places[rect.corners[k]]);
                let here = search.places[mark];
                let longest = beside.map(|[x, y]| (x - here[0]).hypot(y - here[1]));
                let sag = SAG * longest[0].max(longest[1]);
                take(&mut so_far, mark, corner.map(|(at, sigma)| (at, sigma.max(sag))));
            }
        }
    }
    so_far
}

/// The four sides. An opening is darker or lighter than its frame all round,
/// so the polarity in which the sides together agree better is taken; a side
/// that is far clearer in another keeps that one.
fn outline(near: &[Option<Near<'_>>; 4]) -> [Result<Line, Missing>; 4] {
    let total = |polarity| near.iter().flatten().map(|n| n.score(polarity)).sum::<f64>();
    let darker = total(Polarity::Outward) >= total(Polarity::Inward);
    let [usual, other] = if darker {
        [Polarity::Outward, Polarity::Inward]
    } else {
        [Polarity::Inward, Polarity::Outward]
    };
    near.each_ref().map(|near| {
        let near = near.as_ref().ok_or(Missing::Edge)?;
        let score = |polarity| near.score(polarity);
        let one = if score(other) > CLEARER * score(usual) { other } else { usual };
        let changing = score(Polarity::Changing) > CHANGING * score(usual).max(score(other));
        near.line(if changing { Polarity::Changing } else { one })
    })
}

/// Where two sides meet, and how well that is known.
fn corner(
    a: Result<Line, Missing>,
    b: Result<Line, Missing>,
    search: &Search,
) -> Result<([f64; 2], f64), Kept> {
    let (a, b) = match (a, b) {
        (Ok(a), Ok(b)) => (a, b),
        (Err(Missing::Choice), _) | (_, Err(Missing::Choice)) => return Err(Kept::TwoEdges),
        _ => return Err(Kept::NoEdge),
    };
    let at = a.meet(&b).ok_or(Kept::NoEdge)?;
    Ok((search.view.bent(at), a.sigma.max(b.sigma)))
}

fn take(so_far: &mut Refined, mark: usize, corner: Result<([f64; 2], f64), Kept>) {
    let [x, y] = so_far.moves[mark].old;
    let far = |[u, v]: [f64; 2]| (u - x).hypot(v - y);
    let most = LONGEST.min(REACH * so_far.marked.click.max(LEAST) * std::f64::consts::SQRT_2);
    let taken = corner.and_then(|(at, sigma)| match far(at) {
        far if far > most => Err(Kept::Far(far)),
        _ => Ok((at, sigma)),
    });
    so_far.moves[mark].new = taken.map(|(at, _)| at);
    if let Ok((at, sigma)) = taken {
        so_far.marked.marks[mark].at = at;
        so_far.marked.marks[mark].sigma = Some(sigma.max(LEAST));
    }
}

/// Gives marks back to the hand, the worst first, until the rest pass the
/// gate; nothing when more than half would have to go back.
fn gated(mut refined: Refined, hand: &Marked) -> Option<(Refined, Solution)> {
    let most = refined.count() / 2;
    for round in 0..=most {
        let solution = solve(&refined.marked).ok()?;
        let worst = solution.worst_where(|mark| refined.moves[mark].new.is_ok());
        let all_fit = worst.is_none_or(|worst| worst.score < MISFIT);
        if solution.passes() && (all_fit || round == most) {
            return Some((refined, solution));
        }
        let worst = worst?.mark;
        refined.moves[worst].new = Err(Kept::Misfit);
        refined.marked.marks[worst] = hand.marks[worst].clone();
    }
    None
}

fn all_kept(marked: &Marked, why: Kept) -> Refined {
    let keep = |(mark, m): (usize, &super::marked::Mark)| Move { mark, old: m.at, new: Err(why) };
    Refined { moves: marked.marks.iter().enumerate().map(keep).collect(), marked: marked.clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::photo::marked::{Known, Mark, Rect, Span};
    use crate::photo::pixels::{Rgb, RgbImage};

    /// Dark openings, 90 by 120 px, on a light wall seen squarely.
    const OPENINGS: [[f64; 2]; 3] = [[60.3, 80.6], [220.8, 80.6], [380.2, 80.6]];

    fn wall() -> (RgbImage, Marked) {
        let mut marked = Marked::bare("wall", [520, 300]);
        marked.click = 2.0;
        for (i, [x, y]) in OPENINGS.into_iter().enumerate() {
            let corners = [[x, y], [x + 90.0, y], [x + 90.0, y + 120.0], [x, y + 120.0]];
            let first = marked.marks.len();
            let named = |(k, at)| Mark::new(&format!("w{i}_{k}"), at);
            marked.marks.extend(corners.into_iter().enumerate().map(named));
            let corners = [first, first + 1, first + 2, first + 3];
            marked.rects.push(Rect { id: format!("w{i}"), corners });
        }
        for (span, value) in [(Span::Width(0), 3.0), (Span::Height(0), 4.0)] {
            marked.known.push(Known { span, value, sigma: 0.001 });
        }
        // How much of a pixel an opening covers along one axis.
        let cover = |p: u32, from: f64, length: f64| {
            let (low, high) = (f64::from(p) - 0.5, f64::from(p) + 0.5);
            (high.min(from + length) - low.max(from)).clamp(0.0, 1.0)
        };
        let picture = RgbImage::from_fn(520, 300, |u, v| {
            let dark: f64 =
                OPENINGS.iter().map(|o| cover(u, o[0], 90.0) * cover(v, o[1], 120.0)).sum();
            Rgb([(200.0 - 150.0 * dark) as u8; 3])
        });
        (picture, marked)
    }

    fn pushed(marked: &Marked) -> Marked {
        let mut other = marked.clone();
        for (i, mark) in other.marks.iter_mut().enumerate() {
            let a = 2.4 * i as f64;
            mark.at = [mark.at[0] + 2.0 * a.cos(), mark.at[1] + 2.0 * a.sin()];
        }
        other
    }

    #[test]
    fn marks_go_to_the_corners() {
        let (picture, truth) = wall();
        let refined = refine(&pushed(&truth), &Brightness::of(&picture));
        assert_eq!(refined.count(), truth.marks.len(), "{:?}", refined.moves);
        for (m, mark) in refined.moves.iter().zip(&truth.marks) {
            let [x, y] = m.new.unwrap();
            let off = (x - mark.at[0]).hypot(y - mark.at[1]);
            assert!(off < 0.15, "{}: {off} px", mark.id);
        }
    }

    #[test]
    fn a_blank_picture_moves_nothing() {
        let (_, truth) = wall();
        let blank = RgbImage::from_pixel(520, 300, Rgb([120; 3]));
        let hand = pushed(&truth);
        let refined = refine(&hand, &Brightness::of(&blank));
        assert_eq!((refined.count(), &refined.marked), (0, &hand));
        assert!(refined.moves.iter().all(|m| m.new == Err(Kept::NoEdge)));
    }

    #[test]
    fn a_long_move_is_refused() {
        let (picture, truth) = wall();
        let mut hand = truth.clone();
        // One window marked 4.8 px off both ways: 6.8 px from its corner.
        for mark in &mut hand.marks[4..8] {
            mark.at = mark.at.map(|p| p + 4.8);
        }
        hand.click = 3.0;
        let refined = refine(&hand, &Brightness::of(&picture));
        assert!(matches!(refined.moves[5].new, Err(Kept::Far(by)) if by > LONGEST));
        assert_eq!(refined.marked.marks[5], hand.marks[5]);
    }
}
