//! What an alternative needs: castings, and wall and roof to be covered.

use super::build::build;
use super::case::Case;
use super::{Decision, snap};
use crate::elevation::Built;
use crate::elevation::body::run;
use crate::job::body::RoofKind;
use crate::job::place::RoofFollows;
use crate::quantity::slack::WHOLE;
use crate::quantity::{Compressed, CompressedLength, Length, ModelLength};

/// What an alternative needs, to be ordered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Needs {
    /// Doors and windows by kind, over all faces.
    pub openings: Vec<Opening>,
    /// Boards or sheets that stand across the front, whole ones.
    pub across_front: Option<Across>,
    /// Walls and roof on the model, square inches, openings taken out.
    pub cover_in2: f64,
    /// Sheets of the first size on hand that this area comes to, at least; the
    /// layout has the number.
    pub sheets_at_least: Option<u32>,
}

/// So many openings of a kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Opening {
    /// The kind.
    pub kind: String,
    /// How many.
    pub count: usize,
    /// Whether a bought casting fills it.
    pub casting: bool,
}

/// Units of cladding that stand across the front.
#[derive(Clone, Debug, PartialEq)]
pub struct Across {
    /// `boards` or `sheets`.
    pub word: &'static str,
    /// Whole ones needed.
    pub count: u32,
    /// Width of one.
    pub unit: CompressedLength,
}

/// The needs of a decision.
pub(crate) fn needs(case: &Case<'_>, decision: &Decision) -> Needs {
    let (built, _) = build(case, decision);
    let cover_in2 =
        (walls(&built) + roof(case, &built)).max(0.0) / case.scale.ratio.value().powi(2);
    let sheet = case
        .job
        .cutting
        .sheets
        .first()
        .map(|[wide, long]| wide.length().in_inches() * long.length().in_inches());
    let sheets = sheet.filter(|area| *area > 0.0).map(|area| (cover_in2 / area).ceil());
    Needs {
        openings: openings(case, &built),
        across_front: across_front(case, &built),
        cover_in2,
        // A few hundred at most.
        sheets_at_least: sheets.map(|count| count as u32),
    }
}

fn openings(case: &Case<'_>, built: &Built) -> Vec<Opening> {
    let mut out: Vec<Opening> = Vec::new();
    for hole in built.faces.iter().flat_map(|face| &face.holes) {
        match out.iter_mut().find(|known| known.kind == hole.kind) {
            Some(known) => known.count += 1,
            None => {
                let kind = case.job.openings.iter().find(|opening| opening.name == hole.kind);
                let casting = kind.is_some_and(|kind| kind.casting.is_some());
                out.push(Opening { kind: hole.kind.clone(), count: 1, casting });
            }
        }
    }
    out
}

fn across_front(case: &Case<'_>, built: &Built) -> Option<Across> {
    let (_, unit) = snap::upright(case)?;
    let unit = CompressedLength::kept(unit);
    let word = snap::whole(case)?.word();
    let count = (built.body.length / unit - WHOLE).ceil().max(0.0) as u32;
    Some(Across { word, count, unit })
}

/// Square inches of wall at full size, gables in and openings out.
fn walls(built: &Built) -> f64 {
    let rise = (built.body.ridge - built.body.eave).in_inches().max(0.0);
    (built.faces.iter())
        .map(|face| {
            let length = face.length.in_inches();
            let gable = if face.gable { 0.5 * length * rise } else { 0.0 };
            let holes = face.holes.iter().map(|hole| (hole.width * hole.height).in_square_inches());
            length * face.height.in_inches() + gable - holes.sum::<f64>()
        })
        .sum()
}

/// Square inches of roof at full size: slope length by length over the rakes.
fn roof(case: &Case<'_>, built: &Built) -> f64 {
    let body = &built.body;
    let inches = Length::<Compressed>::in_inches;
    let long = inches(body.length) + 2.0 * inches(body.rake_overhang);
    let (planes, run) = match (built.roof, case.roof) {
        (RoofFollows::Flat, _) => return 0.0,
        (RoofFollows::HalfRelief, _) => (1.0, body.depth),
        (_, RoofKind::Flat) => return long * inches(body.depth),
        (_, RoofKind::Shed) => (1.0, run(RoofKind::Shed, body.depth)),
        (_, kind) => (2.0, run(kind, body.depth)),
    };
    let slope = (inches(run) + inches(body.eave_overhang)) * body.pitch.hypot(1.0);
    planes * slope * long
}

impl Needs {
    /// The needs in words.
    #[must_use]
    pub fn words(&self, sheet: Option<[ModelLength; 2]>) -> Vec<String> {
        let mut words: Vec<String> = (self.openings.iter())
            .map(|opening| {
                let name = super::words::plural(opening.count, &opening.kind);
                if opening.casting { format!("{name} (castings)") } else { name }
            })
            .collect();
        words.extend(
            self.across_front
                .as_ref()
                .map(|it| format!("{} {} across the front", it.count, it.word)),
        );
        words.push(match (self.sheets_at_least, sheet) {
            (Some(count), Some([wide, long])) => format!(
                "walls and roof {:.0} square in: at least {count} sheets of {} x {} in",
                self.cover_in2,
                wide.in_inches(),
                long.in_inches()
            ),
            _ => format!("walls and roof {:.0} square in", self.cover_in2),
        });
        words
    }
}
