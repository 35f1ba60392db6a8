//! Contradictions between what was read, adopted, tied, drawn and bought.
//!
//! Each looks at two things the person wrote that cannot both be, and names
//! both. They stand where they were typed, the dearest first, and again beside
//! the lists that are cut from.

use crate::catalog::Catalog;
use crate::elevation::Faces;
use crate::finding::{Finding, Severity, Subject};
use crate::job::Job;
use crate::job::body::{Along, BodyPlace};
use crate::job::building::{Cladding, CladdingKind, Opening};
use crate::job::face::{Element, ElementKind};
use crate::job::form::Linear;
use crate::job::said::Size;
use crate::job::wall::Wall;
use crate::quantity::{CompressedLength, PrototypeLength, Scale};
use crate::survey::{DimensionFound, Survey};
use crate::takeoff::casting;

/// Baarda's limit for one reading, in standard deviations: see the survey.
const FAR: f64 = 3.29;
/// Full-size lengths nearer than this agree.
const NEAR_INCHES: f64 = 0.5;
/// A casting this much off its opening is another casting.
const CASTING: f64 = 0.15;

/// Everything in a job that contradicts itself, the dearest first.
pub(super) fn contradictions(
    job: &Job,
    catalog: &Catalog,
    survey: &Survey,
    faces: Option<&Faces>,
    scale: Option<&Scale>,
) -> Vec<Finding> {
    let at = Look { job, survey };
    let mut found: Vec<Finding> = Vec::new();
    found.extend(survey.dimensions.iter().filter_map(|one| at.adopted(one)));
    found.extend(at.ties());
    if let Some(faces) = faces {
        found.extend(at.overall(faces));
        found.extend(at.annexes(faces));
    }
    found.extend(at.counts());
    if let Some(scale) = scale {
        found.extend(job.openings.iter().filter_map(|it| at.casting(it, catalog, scale)));
    }
    found.extend(job.claddings.iter().filter_map(|cladding| at.sheet(cladding)));
    found.extend(at.sheets_on_hand());
    found.extend(at.years());
    found.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    found
}

struct Look<'a> {
    job: &'a Job,
    survey: &'a Survey,
}

/// What a contradiction costs, or a guess at it where it is no length.
fn weight(found: &Finding) -> f64 {
    let guess = if found.severity > Severity::Note { 1.0 } else { 0.0 };
    found.cost_in.unwrap_or(guess)
}

fn look(cost: f64, subject: Subject, message: String, hint: &str) -> Finding {
    Finding::look(subject, message, hint).costing(cost)
}

impl Look<'_> {
    fn show(&self, inches: f64) -> String {
        self.job.about.full_notation().show(&PrototypeLength::inches(inches))
    }

    /// A figure adopted far from what was read.
    fn adopted(&self, found: &DimensionFound) -> Option<Finding> {
        let (adopted, measured) = (found.adopted?, found.measured.as_ref()?);
        let apart = (adopted - measured.value).in_inches();
        let sigma = measured.sigma.in_inches();
        let off = apart.abs() / sigma;
        (sigma > 0.0 && off > FAR && apart.abs() > NEAR_INCHES).then(|| {
            look(
                apart.abs(),
                Subject::Dimension(found.name.clone()),
                format!(
                    "{} is adopted as {}, and the readings put it at {}: {off:.1} standard deviations away",
                    found.name,
                    self.show(adopted.in_inches()),
                    self.show(measured.value.in_inches()),
                ),
                "adopt another figure, or look for the reading that is off",
            )
        })
    }

    /// Ties that the adopted figures break.
    fn ties(&self) -> Vec<Finding> {
        let figure = |name: &str| Some(self.survey.dimension(name)?.adopted?.in_inches());
        let broken = |tie: &crate::job::model::Tie| {
            let apart = tie.says.difference().value(figure)?;
            (apart.abs() > NEAR_INCHES).then(|| {
                look(
                    apart.abs(),
                    Subject::Tie(tie.id.clone()),
                    format!(
                        "the figures adopted break the tie {} ({}) by {}",
                        tie.id,
                        tie.says,
                        self.show(apart.abs())
                    ),
                    "adopt figures that keep it, or take the tie out",
                )
            })
        };
        self.job.ties.iter().filter_map(broken).collect()
    }

    /// The front's row against the dimension that is its whole length.
    fn overall(&self, faces: &Faces) -> Option<Finding> {
        let front = faces.front();
        let is_whole = |found: &&DimensionFound| {
            let words = found.what.to_lowercase();
            let name = found.name.as_str();
            let title = front.title.to_lowercase();
            let of_front = [front.name.as_str(), "front", "face", title.as_str()];
            let names = ["overall", "length", "front", front.name.as_str()];
            names.contains(&name)
                || (words.contains("length")
                    && of_front.iter().any(|of| !of.is_empty() && words.contains(of)))
        };
        let found = self.survey.dimensions.iter().find(is_whole)?;
        let measured = found.measured.as_ref();
        let wanted = found.adopted.or(measured.map(|it| it.value))?.in_inches();
        let sigma = measured.map_or(0.0, |it| it.sigma.in_inches());
        let slack =
            if found.adopted.is_some() { NEAR_INCHES } else { (FAR * sigma).max(NEAR_INCHES) };
        let apart = front.length.in_inches() - wanted;
        (apart.abs() > slack).then(|| {
            look(
                apart.abs(),
                Subject::Element(front.name.clone()),
                format!(
                    "the row of \"{}\" adds up to {}, and its length, {}, is {}",
                    front.name,
                    self.show(front.length.in_inches()),
                    found.name,
                    self.show(wanted),
                ),
                "one of its widths or counts is off, or the length",
            )
        })
    }

    /// Bays that a tie counts otherwise than the rows do.
    fn counts(&self) -> Vec<Finding> {
        let mut found = Vec::new();
        for tie in &self.job.ties {
            let terms = tie.says.left.terms.iter().chain(&tie.says.right.terms);
            for term in terms.filter(|term| term.factor > 1.5 && term.factor.fract().abs() < 1e-9) {
                let rows = self.job.walls.iter().map(|wall| (wall, drawn(&wall.row, &term.name)));
                let counted = rows.filter(|(_, many)| *many > 0);
                let differs =
                    |(_, many): &(&Wall, u32)| (f64::from(*many) - term.factor).abs() > 0.5;
                for (wall, many) in counted.filter(differs) {
                    let width = self.survey.dimension(&term.name).and_then(|it| {
                        it.adopted.or(it.measured.as_ref().map(|measured| measured.value))
                    });
                    let cost = width.map_or(12.0, |width| width.in_inches())
                        * (f64::from(many) - term.factor).abs();
                    found.push(look(
                        cost,
                        Subject::Element(wall.of.to_string()),
                        format!(
                            "{} has {many} of {}, and the tie {} counts {}",
                            wall.of, term.name, tie.id, term.factor
                        ),
                        "count them on a photograph, and put row or tie right",
                    ));
                }
            }
        }
        found
    }

    /// A casting that is not of the opening's size on the model.
    fn casting(&self, opening: &Opening, catalog: &Catalog, scale: &Scale) -> Option<Finding> {
        let bought = casting(opening, catalog)?;
        let full = |size: &Size| self.survey.size(size).ok().map(|found| found.value);
        let sides = [
            ("wide", bought.frame.0, full(&opening.width)?),
            ("high", bought.frame.1, full(&opening.height)?),
        ];
        sides.into_iter().find_map(|(side, frame, size)| {
            let wanted = scale.reduce(CompressedLength::kept(size));
            let apart = frame / wanted - 1.0;
            (apart.abs() > CASTING).then(|| {
                let model = self.job.about.model_notation();
                look(
                    size.in_inches() * apart.abs(),
                    Subject::Member(opening.name.clone()),
                    format!(
                        "the casting of {} is {} {side}, and the opening on the model {}: {:+.0} percent",
                        opening.name,
                        model.show(&frame),
                        model.show(&wanted),
                        100.0 * apart
                    ),
                    "look at both sizes and the scale, or find another casting",
                )
            })
        })
    }

    /// A box that stands before doors or windows of its face.
    fn annexes(&self, faces: &Faces) -> Vec<Finding> {
        let inches = |size: &Size| Some(self.survey.size(size).ok()?.value.in_inches());
        let mut found = Vec::new();
        for annex in &self.job.bodies {
            let Some(stands) = &annex.stands else { continue };
            let (BodyPlace::Against(wall) | BodyPlace::Out(wall)) = &stands.place else { continue };
            let name = wall.to_string();
            let Some(face) = faces.faces.iter().find(|face| face.name == name) else { continue };
            let high = annex.eave.as_ref().or(annex.meets.as_ref());
            let (Some(long), Some(high)) =
                (annex.length.as_ref().and_then(inches), high.and_then(inches))
            else {
                continue;
            };
            let at = match &stands.along {
                Along::Left(size) => inches(size),
                Along::Right(size) => {
                    inches(size).map(|size| face.length.in_inches() - size - long)
                }
                _ => continue,
            };
            let Some(at) = at else { continue };
            let behind = face.holes.iter().find(|hole| {
                let (left, right) = (hole.left.in_inches(), hole.right().in_inches());
                left < at + long - NEAR_INCHES
                    && right > at + NEAR_INCHES
                    && hole.foot.in_inches() < high - NEAR_INCHES
                    && hole.head().in_inches() > NEAR_INCHES
                    && hole.what != crate::job::building::OpeningWhat::Door
            });
            if let Some(hole) = behind {
                found.push(look(
                    hole.width.in_inches(),
                    Subject::Element(format!("{}/{}", face.name, hole.label)),
                    format!("{} stands before the {} \"{}\"", annex.name, hole.kind, hole.label),
                    "move one of them, or take the window out of the row",
                ));
            }
        }
        found
    }

    /// Sheets wider than they are long.
    fn sheet(&self, cladding: &Cladding) -> Option<Finding> {
        if cladding.kind != CladdingKind::Corrugated {
            return None;
        }
        let inches =
            |size: &Option<Size>| Some(self.survey.size(size.as_ref()?).ok()?.value.in_inches());
        let (wide, long) = (inches(&cladding.unit)?, inches(&cladding.length)?);
        (wide > long + NEAR_INCHES).then(|| {
            look(
                wide - long,
                Subject::Member(cladding.name.clone()),
                format!(
                    "the sheets of {} cover {} and are only {} long",
                    cladding.name,
                    self.show(wide),
                    self.show(long)
                ),
                "`unit` is the width covered, `length` lies up the slope: are they swapped?",
            )
        })
    }

    /// Sheets on hand that are wider across the grain than along it.
    fn sheets_on_hand(&self) -> Option<Finding> {
        let [wide, long] = self
            .job
            .cutting
            .sheets
            .iter()
            .find(|[wide, long]| wide.length().in_inches() > 1.5 * long.length().in_inches())?;
        Some(Finding::look(
            Subject::Stock("sheet".to_owned()),
            format!("a sheet of {wide} across the grain is only {long} along it"),
            "write the width first, then the length along the grain: are they swapped?",
        ))
    }

    /// Sources of another time than the year shown.
    fn years(&self) -> Option<Finding> {
        const APART: i32 = 25;
        let shown = self.job.about.year?;
        let far = |year: &i32| (year - shown).abs() > APART;
        let sources =
            self.job.sources.iter().filter(|source| source.year.as_ref().is_some_and(far));
        let named: Vec<&str> = sources.clone().map(|source| source.id.as_str()).collect();
        let first = sources.clone().next()?;
        let finding = Finding::note(
            Subject::Source(first.id.clone()),
            format!(
                "the model shows {shown}; {} and more years lie between it and {}: what was altered is not in them",
                APART,
                crate::finding::short::list(named)
            ),
        );
        Some(finding)
    }
}

/// How often a row holds a dimension as the width of its elements.
fn drawn(row: &[Element], name: &str) -> u32 {
    let is_of = |size: &Size| size.measured.as_ref().and_then(Linear::single) == Some(name);
    row.iter()
        .map(|element| match &element.kind {
            ElementKind::Bays { width, times, .. } if is_of(width) => times.count,
            ElementKind::Repeat { row, times } => times.count.saturating_mul(drawn(row, name)),
            ElementKind::Plain { width, .. } | ElementKind::Corner { width } if is_of(width) => 1,
            _ => 0,
        })
        .sum()
}
