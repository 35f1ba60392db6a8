//! Vertical boards scribed on sheet, spliced where two boards meet.

use std::sync::Arc;

use super::Shop;
use super::part::{Kind, Piece};
use super::skin::{Skin, across, as_built, between, said};
use super::zone::Zone;
use crate::building::{Origin, Outline, Role};
use crate::elevation::Hole;
use crate::finding::{Finding, Subject};
use crate::quantity::slack::{TOUCH, WHOLE};
use crate::quantity::{Compressed, CompressedLength, ModelLength};
use crate::sums::rows::nearest_whole;

type Full = CompressedLength;
type Point = crate::building::Point<Compressed>;

/// Longest wall whose scribed sheet stays flat without bracing (trade: 4 in).
const FLAT_INCHES: f64 = 4.0;
/// Least strip of sheet beside a splice, on the model (trade: 1/8 in).
const LEG_INCHES: f64 = 1.0 / 8.0;

/// An engraved sheet: its lines, and where it is spliced.
#[derive(Clone, Debug, PartialEq)]
pub struct Engraved {
    /// The wall.
    pub wall: String,
    /// The layer.
    pub layer: String,
    /// From one line to the next.
    pub pitch: CompressedLength,
    /// Its lines from its left edge, the one that becomes a splice included.
    pub lines: Vec<CompressedLength>,
    /// The lines it is spliced at, by number from 1.
    pub splices: Vec<usize>,
    /// The narrowest strip left beside a splice.
    pub leg: Option<CompressedLength>,
    /// Why its splices are where they are.
    pub(super) edges: Vec<Arc<Origin>>,
}

/// The sheets of a zone. The boards share out the width: `width / round(width /
/// board)`; a sheet wider than the stock is spliced at a line.
pub(super) fn pieces(
    shop: &mut Shop<'_>,
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    board: Full,
) -> (Vec<Piece>, Engraved) {
    let name = &zone.cladding.name;
    let section = format!("{name} sheet");
    let most = across_grain(shop, &section);
    let count = nearest_whole(skin.width() / board).max(1.0);
    let pitch = skin.width() / count;
    let lines: Vec<Full> = (1..count as usize).map(|k| pitch * k as f64).collect();
    let places = Places {
        skin,
        lines: &lines,
        most,
        leg: shop.scale.enlarge(ModelLength::inches(LEG_INCHES)),
        shop,
    };
    let splices = places.splices();
    let leg = |splices: &[usize]| {
        splices
            .iter()
            .filter_map(|line| places.leg_at(skin.left + lines[*line - 1]))
            .reduce(Full::min)
    };
    let chosen = splices.clone().unwrap_or_else(|| greedy(&lines, skin.width(), most));
    let leg = leg(&chosen);
    if splices.is_none() {
        shop.findings.push(Finding::look(
            Subject::Element(skin.wall.name.clone()),
            format!(
                "{} is wider than its sheet, and no board line leaves 1/8 in beside an opening",
                skin.wall.title
            ),
            "use a wider sheet, or move an opening",
        ));
    }
    let splices = chosen;
    let board_why = said(
        "board",
        board,
        zone.cladding.unit.as_ref(),
        "1 ft boards, common practice, no source",
    );
    let line_why = |line: usize| {
        let width = skin.layer.length();
        let number = Origin::plain(
            "boards to there",
            line as f64,
            crate::building::Why::Default("counted from the left edge"),
        );
        let of = [&skin.layer.left.origin, &width.origin, &board_why.origin, &number];
        Origin::rule("board line", "so many boards that share out the sheet", &of, |of| {
            of[0] + of[1] / nearest_whole(of[1] / of[2]).max(1.0) * of[3]
        })
    };
    let mut edges: Vec<(Full, Arc<Origin>)> =
        vec![(skin.left, Arc::clone(&skin.layer.left.origin))];
    edges.extend(splices.iter().map(|line| (skin.left + lines[*line - 1], line_why(*line))));
    edges.push((skin.right, Arc::clone(&skin.layer.right.origin)));
    let mut pieces = Vec::new();
    for pair in edges.windows(2) {
        let own = lines.iter().map(|line| skin.left + *line);
        let own: Vec<Full> = own.filter(|x| *x > pair[0].0 && *x < pair[1].0).collect();
        pieces.extend(piece(shop, skin, zone, [&pair[0], &pair[1]], (pitch, &own)));
    }
    let whys = edges[1..edges.len() - 1].iter().map(|(_, why)| Arc::clone(why)).collect();
    let engraved = Engraved {
        wall: skin.wall.name.clone(),
        layer: name.clone(),
        pitch,
        leg,
        lines,
        splices,
        edges: whys,
    };
    grain_across(shop, skin, name);
    (pieces, engraved)
}

/// The sheets between two edges: one for each piece that hangs together.
fn piece(
    shop: &Shop<'_>,
    skin: &Skin<'_>,
    zone: &Zone<'_>,
    [from, to]: [&(Full, Arc<Origin>); 2],
    (pitch, lines): (Full, &[Full]),
) -> Vec<Piece> {
    let wall = &skin.wall;
    let holes: Vec<Hole<Compressed>> =
        skin.layer.holes.iter().map(|hole| hole.hole.clone()).collect();
    let scribe = shop.job.about.model_notation().show(&shop.scale.reduce(pitch));
    let shapes = wall.shapes((from.0, to.0), (zone.from, zone.to), &holes);
    let each = shapes.iter().map(|shape| {
        let (low, high) = shape.bounds();
        let up = |y: Full| {
            skin.height_why(y, &from.1, || {
                skin.height_why(y, &to.1, || {
                    let near = y.agrees(zone.from, Full::inches(TOUCH));
                    let end = if near { Some(Arc::clone(&zone.why.0)) } else { zone.why.1.clone() };
                    end.unwrap_or_else(|| as_built("edge of the sheet", y))
                })
            })
        };
        let whole =
            low.x.agrees(from.0, Full::inches(TOUCH)) && high.x.agrees(to.0, Full::inches(TOUCH));
        let width = if whole {
            across("width of the sheet", &from.1, &to.1)
        } else {
            let at = |x: Full| match x {
                x if x.agrees(from.0, Full::inches(TOUCH)) => Arc::clone(&from.1),
                x if x.agrees(to.0, Full::inches(TOUCH)) => Arc::clone(&to.1),
                x => skin.at_why(x, || skin.corner_why(x)),
            };
            across("width of the sheet", &at(low.x), &at(high.x))
        };
        let mut piece = Piece::sheet(
            Kind::Scribed,
            between("height of the sheet", &up(low.y), &up(high.y)),
            width,
        )
        .of(format!("{} sheet", zone.cladding.name))
        .note(format!("scribe every {scribe}"))
        .at(low.x, low.y)
        .shaped(shape);
        piece.covers = Full::inches(shape.square_inches()) * Full::inches(1.0);
        piece.scribed = lines.iter().flat_map(|x| upright(shape, *x, low)).collect();
        piece
    });
    each.collect()
}

/// Lines nearer to an edge than this at full size lie along it, inches.
const ALONG: f64 = 1e-4;

/// What of an upright line lies on a shape: from edge to edge, cut at its
/// openings; what lies along an edge is left to the knife. The lower left
/// corner of the shape is zero.
fn upright(shape: &Outline<Compressed>, x: Full, zero: Point) -> Vec<[Point; 2]> {
    let [before, after] = [-ALONG, ALONG].map(|by| heights(shape, x + Full::inches(by)));
    let at = |y: Full| Point::new(x - zero.x, y - zero.y);
    let mut lines = Vec::new();
    for [a, b] in &before {
        for [c, d] in &after {
            let (low, high) = (a.max(*c), b.min(*d));
            if high - low > Full::inches(ALONG) {
                lines.push([at(low), at(high)]);
            }
        }
    }
    lines
}

/// From where to where an upright lies on a shape.
fn heights(shape: &Outline<Compressed>, x: Full) -> Vec<[Full; 2]> {
    let lines = std::iter::once(&shape.outer).chain(&shape.openings);
    let mut heights: Vec<Full> = lines
        .flat_map(|line| line.iter().zip(line.iter().cycle().skip(1)))
        .filter(|(a, b)| (a.x > x) != (b.x > x))
        .map(|(a, b)| a.y + (b.y - a.y) * ((x - a.x) / (b.x - a.x)))
        .collect();
    heights.sort_by(Full::total_cmp);
    heights.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
}

/// How wide the stock of a section is across its grain.
fn across_grain(shop: &Shop<'_>, section: &str) -> Full {
    let said = shop.job.cutting.sheets.iter().map(|[width, _]| width.length());
    let said = said.reduce(ModelLength::max);
    let taken = shop.stock.of(section).and_then(|choice| choice.taken());
    let taken = taken.and_then(|made| made.sheet);
    shop.scale.enlarge(said.or(taken).unwrap_or(ModelLength::inches(4.0)))
}

/// Where a sheet may be spliced.
struct Places<'a, 'b> {
    skin: &'a Skin<'b>,
    lines: &'a [Full],
    most: Full,
    leg: Full,
    shop: &'a Shop<'a>,
}

impl Places<'_, '_> {
    /// The lines to splice at, so that no piece is wider than the stock: in the
    /// middle of the widest pier first. Nothing where none leaves room.
    fn splices(&self) -> Option<Vec<usize>> {
        let mut splices: Vec<usize> = Vec::new();
        loop {
            let edges = self.edges(&splices);
            let wide = edges
                .windows(2)
                .position(|pair| pair[1] - pair[0] > self.most + Full::inches(TOUCH));
            let Some(wide) = wide else {
                splices.sort_unstable();
                return Some(splices);
            };
            let line = self.best((edges[wide], edges[wide + 1]))?;
            splices.push(line);
        }
    }

    fn edges(&self, splices: &[usize]) -> Vec<Full> {
        let mut edges = vec![self.skin.left, self.skin.right];
        edges.extend(splices.iter().map(|line| self.skin.left + self.lines[*line - 1]));
        edges.sort_by(Full::total_cmp);
        edges
    }

    /// The line nearest the middle of the widest pier that will do; of a piece
    /// that needs more than one splice, one that fits on its left side.
    fn best(&self, (left, right): (Full, Full)) -> Option<usize> {
        let mut piers = self.piers();
        piers.sort_by(|a, b| (b.1 - b.0).total_cmp(&(a.1 - a.0)));
        let needs = ((right - left) / self.most - WHOLE).ceil();
        let fits = |at: Full| {
            let (a, b) = (at - left, right - at);
            a > Full::ZERO && b > Full::ZERO && a <= self.most && (needs > 2.0 || b <= self.most)
        };
        piers.into_iter().find_map(|(from, to)| {
            let middle = (from + to) / 2.0;
            let off = |line: &usize| (self.skin.left + self.lines[*line - 1] - middle).abs();
            let within = (1..=self.lines.len()).filter(|line| {
                let at = self.skin.left + self.lines[*line - 1];
                at > from
                    && at < to
                    && fits(at)
                    && self.leg_at(at).is_none_or(|leg| leg >= self.leg)
            });
            // Of two as near, the left one, however the sums are rounded.
            let nearest = within.clone().map(|line| off(&line)).reduce(Full::min)?;
            within.into_iter().find(|line| off(line) <= nearest + Full::inches(1e-6))
        })
    }

    /// Wall between openings, or an opening and an edge.
    fn piers(&self) -> Vec<(Full, Full)> {
        let mut holes: Vec<(Full, Full)> =
            self.skin.wall.holes.iter().map(|hole| (hole.left, hole.right())).collect();
        holes.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut piers = Vec::new();
        let mut at = self.skin.left;
        for (left, right) in holes {
            if left > at {
                piers.push((at, left));
            }
            at = at.max(right);
        }
        piers.push((at, self.skin.right));
        piers
    }

    /// The narrowest strip of sheet between a splice and a hole or flange.
    fn leg_at(&self, at: Full) -> Option<Full> {
        let each = self.skin.layer.holes.iter().map(|cut| {
            let hole = &cut.hole;
            let described = self.skin.wall.holes.iter().find(|it| it.label == hole.label);
            let flange = described.map_or(Full::ZERO, |it| self.shop.flange(it));
            let wide = described.map_or(hole.width, |it| it.width + flange * 2.0).max(hole.width);
            let middle = hole.left + hole.width / 2.0;
            let half =
                if flange > Full::ZERO { wide.max(hole.width) / 2.0 } else { hole.width / 2.0 };
            (at - middle).abs() - half
        });
        each.reduce(Full::min)
    }
}

/// Whole boards together, none wider than the sheet, where nothing better can
/// be found.
fn greedy(lines: &[Full], width: Full, most: Full) -> Vec<usize> {
    let mut splices = Vec::new();
    let mut left = Full::ZERO;
    for (number, line) in lines.iter().enumerate() {
        let next = lines.get(number + 1).copied().unwrap_or(width);
        if next - left > most && *line > left {
            splices.push(number + 1);
            left = *line;
        }
    }
    splices
}

/// A long wall of sheet whose grain runs up bends along its length.
fn grain_across(shop: &mut Shop<'_>, skin: &Skin<'_>, name: &str) {
    let wall = &skin.wall;
    let long: ModelLength = shop.scale.reduce(wall.width);
    if long <= ModelLength::inches(FLAT_INCHES) || skin.layer.role != Role::Single {
        return;
    }
    shop.findings.push(Finding::look(
        Subject::Member(name.to_owned()),
        format!(
            "the grain of the scribed sheet runs across {}, {:.1} in long",
            wall.name,
            long.in_inches()
        ),
        "glue it to a core with its grain along the wall, and seal both faces first",
    ));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sheet of 10 by 20 with a window from 6 to 14 up its middle: a line
    /// through the window is two, one beside it is whole (COMPUTED).
    #[test]
    fn lines_are_cut_at_openings() {
        let at = |x: f64, y: f64| Point::new(Full::inches(x), Full::inches(y));
        let mut sheet = Outline::rectangle(Full::inches(10.0), Full::inches(20.0));
        sheet.openings.push(vec![at(4.0, 6.0), at(4.0, 14.0), at(7.0, 14.0), at(7.0, 6.0)]);
        let told = |x| -> Vec<[f64; 2]> {
            let lines = upright(&sheet, Full::inches(x), at(0.0, 0.0));
            lines.iter().map(|[a, b]| [a.y.in_inches(), b.y.in_inches()]).collect()
        };
        let halves = vec![[0.0, 6.0], [14.0, 20.0]];
        let beside = [(5.0, halves.clone()), (7.0, halves), (8.0, vec![[0.0, 20.0]])];
        for (x, wanted) in beside {
            let found = told(x);
            assert_eq!(found.len(), wanted.len());
            for (a, b) in found.iter().flatten().zip(wanted.iter().flatten()) {
                assert!((a - b).abs() < 1e-9, "{found:?}");
            }
        }
    }

    #[test]
    fn sheets_part_where_boards_meet() {
        let lines: Vec<Full> = [12.0, 24.0, 36.0].map(Full::inches).to_vec();
        assert_eq!(greedy(&lines, Full::inches(42.0), Full::inches(30.0)), [2]);
    }
}
