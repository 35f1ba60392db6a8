//! The sections a job asks for: members, boards, battens, trim, core.

use super::rules::Use;
use super::section::Section;
use crate::finding::{Finding, Subject};
use crate::job::Job;
use crate::job::building::{Cladding, CladdingKind, Member};
use crate::job::said::Size;
use crate::job::wall::Does;
use crate::quantity::{Compressed, CompressedLength, Prototype, Scale};
use crate::survey::Survey;

/// A lumber size written without its era's actual size: `8x8`.
pub type Actual<'a> = &'a dyn Fn(&str) -> Option<Section<Prototype>>;

/// A section that the building asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// Its key: the member's name, or the cladding's name and the piece.
    pub key: String,
    /// What it is, in words.
    pub what: String,
    /// Nominal lumber size, where one was given.
    pub nominal: Option<String>,
    /// Its full size.
    pub full: Section<Compressed>,
    /// How it is judged.
    pub how: Use,
    /// What the survey leaves open in it, at full size.
    pub sigma: Option<CompressedLength>,
}

/// Everything wanted, and findings for what had to be assumed.
#[must_use]
pub fn wanted(
    job: &Job,
    survey: &Survey,
    actual: Actual<'_>,
    scale: &Scale,
) -> (Vec<Wanted>, Vec<Finding>) {
    let mut at = Gather { survey, actual, wanted: Vec::new(), findings: Vec::new() };
    for cladding in &job.claddings {
        at.cladding(cladding);
    }
    at.trim(job);
    for member in &job.members {
        at.member(member);
    }
    at.rafters(job);
    at.decks(job);
    at.sheets(job, scale);
    at.roofs(job, scale);
    at.leaves(job);
    (at.wanted, at.findings)
}

struct Gather<'a> {
    survey: &'a Survey,
    actual: Actual<'a>,
    wanted: Vec<Wanted>,
    findings: Vec<Finding>,
}

impl Gather<'_> {
    fn push(
        &mut self,
        key: &str,
        what: &str,
        nominal: Option<&str>,
        full: Section<Compressed>,
        how: Use,
        sigma: Option<CompressedLength>,
    ) {
        if full.is_solid() && !self.wanted.iter().any(|wanted| wanted.key == key) {
            let nominal = nominal.map(str::to_owned);
            let (key, what) = (key.to_owned(), what.to_owned());
            self.wanted.push(Wanted { key, what, nominal, full, how, sigma });
        }
    }

    /// A size of the job at full size, with what the survey leaves open.
    fn size(
        &mut self,
        size: Option<&Size>,
        otherwise: f64,
    ) -> (CompressedLength, Option<CompressedLength>) {
        let Some(size) = size else { return (CompressedLength::inches(otherwise), None) };
        match self.survey.size(size) {
            Ok(found) => {
                let sigma = found.measured.map(|measured| CompressedLength::kept(measured.sigma));
                (CompressedLength::kept(found.value), sigma)
            }
            Err(stop) => {
                self.findings.push(Finding::trouble(Subject::Job, stop.to_string(), stop.hint));
                (CompressedLength::ZERO, None)
            }
        }
    }

    fn piece(&mut self, key: &str, what: &str, across: (&Size, Option<&Size>, f64), how: Use) {
        let (width, sigma) = self.size(Some(across.0), 0.0);
        let (thickness, _) = self.size(across.1, across.2);
        self.push(key, what, None, Section::new(thickness, width), how, sigma);
    }

    fn cladding(&mut self, cladding: &Cladding) {
        let name = &cladding.name;
        let thickness = cladding.thickness.as_ref();
        match cladding.kind {
            CladdingKind::BoardAndBatten | CladdingKind::Boards => {
                if cladding.scribed {
                    let (thickness, _) = self.size(thickness, 1.0);
                    let full = Section { thickness, width: thickness };
                    let key = format!("{name} sheet");
                    self.push(&key, "scribed sheet", None, full, Use::Core, None);
                } else if let Some(unit) = &cladding.unit {
                    let key = format!("{name} board");
                    self.piece(&key, "board", (unit, thickness, 1.0), Use::Repeated);
                }
                if let Some(batten) = &cladding.batten {
                    let across = (batten, cladding.batten_thickness.as_ref(), 1.0);
                    self.piece(&format!("{name} batten"), "batten", across, Use::Repeated);
                }
            }
            CladdingKind::Clapboard => self.strip(cladding, 1.6, "clapboard strip"),
            CladdingKind::Shingle => self.strip(cladding, 2.0, "shingle strip"),
            CladdingKind::Corrugated | CladdingKind::Brick => {}
        }
    }

    /// A lapped strip so many exposures wide.
    fn strip(&mut self, cladding: &Cladding, exposures: f64, what: &str) {
        let Some(exposure) = &cladding.exposure else { return };
        let (exposure, sigma) = self.size(Some(exposure), 0.0);
        let (thickness, _) = self.size(cladding.thickness.as_ref(), 0.5);
        let full = Section { thickness, width: exposure * exposures };
        self.push(&format!("{} strip", cladding.name), what, None, full, Use::Repeated, sigma);
    }

    fn trim(&mut self, job: &Job) {
        let thickness = job.trim.thickness.as_ref();
        for opening in &job.openings {
            if let Some(width) = &opening.trim {
                let key = format!("{} casing", opening.name);
                self.piece(&key, "casing", (width, thickness, 1.0), Use::Fine);
            }
        }
        for (key, size) in [
            ("corner board", &job.trim.corner),
            ("frieze", &job.trim.frieze),
            ("water table", &job.trim.water_table),
            ("fascia", &job.trim.fascia),
        ] {
            if let Some(size) = size {
                self.piece(key, key, (size, thickness, 1.0), Use::Fine);
            }
        }
    }

    fn member(&mut self, member: &Member) {
        let how = if member.beside_track { Use::BesideTrack } else { Use::Lone };
        let what = if member.what.is_empty() { &member.name } else { &member.what };
        if let Some(nominal) = &member.lumber {
            let full = self.lumber(&member.name, nominal);
            return self.push(&member.name, what, Some(nominal), full, how, None);
        }
        match (&member.thickness, &member.width) {
            (Some(thickness), Some(width)) => {
                let (thickness, _) = self.size(Some(thickness), 0.0);
                let (width, sigma) = self.size(Some(width), 0.0);
                self.push(&member.name, what, None, Section::new(thickness, width), how, sigma);
            }
            _ => self.findings.push(Finding::look(
                Subject::Member(member.name.clone()),
                format!("{} has no section", member.name),
                "give `lumber = \"8x8\"`, or `thickness` and `width`",
            )),
        }
    }

    fn lumber(&mut self, name: &str, nominal: &str) -> Section<Compressed> {
        let none = Section { thickness: CompressedLength::ZERO, width: CompressedLength::ZERO };
        match (self.actual)(nominal) {
            Some(actual) => Section {
                thickness: CompressedLength::kept(actual.thickness),
                width: CompressedLength::kept(actual.width),
            },
            None => {
                self.findings.push(Finding::look(
                    Subject::Member(name.to_owned()),
                    format!("{nominal} is no lumber size of this era"),
                    "give `thickness` and `width` as measured",
                ));
                none
            }
        }
    }

    /// Rafters of a section nobody measured are taken as 2x6.
    fn rafters(&mut self, job: &Job) {
        if !super::catalog::rafters_are_assumed(job) {
            return;
        }
        let full = self.lumber("rafter", "2x6");
        self.findings.push(Finding::note(
            Subject::Member("rafter".into()),
            "no section is given for the rafters: 2x6 is assumed",
        ));
        self.push("rafter", "rafter", Some("2x6"), full, Use::Lone, None);
    }

    /// The sheets of walls, roofs and floors.
    fn sheets(&mut self, job: &Job, scale: &Scale) {
        for layer in &job.layers {
            let Some(thick) = &layer.thick else { continue };
            let thickness = scale.enlarge(thick.length());
            let full = Section { thickness, width: thickness };
            let what = match layer.does {
                Does::Core => "sheet of the core walls",
                Does::Roof => "sheet of the roof",
                Does::Floor => "sheet of the floor",
            };
            self.push(&layer.name, what, None, full, Use::Core, None);
        }
    }

    /// Tails, ledgers and fascia of roofs, posts at corners.
    fn roofs(&mut self, job: &Job, scale: &Scale) {
        let thick = job.trim.thickness.as_ref();
        for body in &job.bodies {
            if let Some(ledger) = &body.wall_ledger {
                self.piece(
                    "wall ledger",
                    "ledger on the wall",
                    (&ledger.thick, Some(&ledger.thick), 1.0),
                    Use::Lone,
                );
            }
            let Some(roof) = &body.roof else { continue };
            if let Some(tails) = &roof.tails {
                let key = format!("{} tail", body.name);
                match (&tails.lumber, &tails.section) {
                    (Some(nominal), _) => {
                        let full = self.lumber(&key, nominal);
                        self.push(&key, "rafter tail", Some(nominal), full, Use::Lone, None);
                    }
                    (None, Some([thickness, depth])) => {
                        self.piece(&key, "rafter tail", (depth, Some(thickness), 2.0), Use::Lone);
                    }
                    (None, None) => {
                        let full = self.lumber(&key, "2x4");
                        let subject = Subject::Member(key.clone());
                        let note = format!(
                            "no section is given for the tails of {}: 2x4 is assumed",
                            body.name
                        );
                        self.findings.push(Finding::note(subject, note));
                        self.push(&key, "rafter tail", Some("2x4"), full, Use::Lone, None);
                    }
                }
            }
            if let Some(ledger) = &roof.ledger {
                let side = scale.enlarge(ledger.thick.length());
                let full = Section { thickness: side, width: side };
                self.push("roof ledger", "ledger inside the walls", None, full, Use::Lone, None);
            }
            if let Some(fascia) = &roof.fascia {
                self.piece("fascia", "fascia", (fascia, thick, 1.0), Use::Fine);
            }
        }
        for post in job.corners.iter().filter_map(|corner| corner.post.as_ref()) {
            let side = scale.enlarge(post.length());
            let full = Section { thickness: side, width: side };
            self.push("corner post", "post at the corners", None, full, Use::Lone, None);
        }
    }

    /// Boards of door leaves.
    fn leaves(&mut self, job: &Job) {
        let thick = job.trim.thickness.as_ref();
        for opening in &job.openings {
            let Some(leaf) = &opening.leaf else { continue };
            let key = format!("{} leaf", opening.name);
            self.piece(&key, "board of a door", (&leaf.boards, thick, 1.0), Use::Fine);
        }
    }

    fn decks(&mut self, job: &Job) {
        for deck in &job.decks {
            let key = format!("{} plank", deck.name);
            let across = (&deck.plank, deck.thickness.as_ref(), 2.0);
            self.piece(&key, "plank", across, Use::Repeated);
            let full = self.lumber(&deck.name, "2x10");
            let key = format!("{} stringer", deck.name);
            self.push(&key, "stringer under the planks", Some("2x10"), full, Use::Lone, None);
        }
    }
}
