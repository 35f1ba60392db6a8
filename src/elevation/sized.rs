//! Faces as rows of elements whose sizes are known, before anything is placed.
//!
//! The compression stage works on these rows: it changes counts and widths and
//! has the same row placed again.

use super::body::{pitch_of, run};
use crate::finding::{Finding, Stop, Subject};
use crate::job::Job;
use crate::job::body::{FaceId, Side};
use crate::job::building::{Opening as OpeningKind, OpeningWhat};
use crate::job::face::{Element as JobElement, ElementKind, Times};
use crate::job::said::Size;
use crate::job::wall::{Placed as JobPlaced, Wall};
use crate::quantity::{Prototype, PrototypeLength};
use crate::survey::SizeFound;

/// One face as a row of sized elements.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// The wall it is.
    pub id: FaceId,
    /// The same as text: `main/front`.
    pub name: String,
    /// What it is called in drawings.
    pub title: String,
    /// Its own wall height, where it differs from the eave.
    pub height: Option<PrototypeLength>,
    /// The length it should come to, where the job says one.
    pub length: Option<PrototypeLength>,
    /// The ridge over it, where it is not that of the main body.
    pub ridge: Option<PrototypeLength>,
    /// Whether the gable triangle stands on it.
    pub gable: bool,
    /// The elements, left to right; none for a plain wall.
    pub row: Vec<Element>,
    /// Openings at a place of their own.
    pub openings: Vec<Placed>,
}

/// An opening at its place on a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Its label on the wall: `door@1`.
    pub label: String,
    /// Its left edge from the left corner.
    pub at: PrototypeLength,
    /// What stands there.
    pub opening: Opening,
}

impl Face {
    /// What part the face plays, given which one is the front.
    #[must_use]
    pub fn role(&self, front: &Front) -> Role {
        match self.id.side {
            _ if self.id.body != front.id.body => Role::Other,
            Side::Front => Role::Front,
            Side::Left | Side::Right => Role::End,
            Side::Back => Role::Side,
        }
    }
}

/// The part a face plays in the body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// Its row gives the length of the building.
    Front,
    /// It runs across the building: as long as the building is deep.
    End,
    /// It runs along the building, behind the front.
    Side,
    /// It belongs to a body that is not shortened.
    Other,
}

/// One element of a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// The element's name in the job.
    pub name: String,
    /// What it is.
    pub kind: Kind,
}

/// What an element is, with its sizes.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Corner board or pier.
    Corner {
        /// Its width.
        width: PrototypeLength,
    },
    /// Plain wall.
    Plain {
        /// Its width.
        width: PrototypeLength,
        /// Shortest it may become, where the job says so.
        least: Option<PrototypeLength>,
        /// Longest it may become, where the job says so.
        most: Option<PrototypeLength>,
        /// Plain walls of one group shrink by one factor.
        group: String,
        /// Never stretched.
        fixed: bool,
    },
    /// Exactly an opening.
    Opening {
        /// What stands there.
        opening: Opening,
        /// Where its centre must stand on the shortened building.
        pinned: Option<PrototypeLength>,
    },
    /// Equal bays.
    Bays {
        /// Width of one.
        width: PrototypeLength,
        /// Narrowest it may become, where the job says so.
        least: Option<PrototypeLength>,
        /// What stands in successive bays, over and over, from the foot up.
        cycle: Vec<Vec<Opening>>,
        /// How often.
        times: Times,
    },
    /// A sub-row repeated.
    Repeat {
        /// The sub-row.
        row: Vec<Element>,
        /// How often.
        times: Times,
    },
}

/// A kind of door or window with its sizes.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Name of the `[[opening]]`.
    pub kind: String,
    /// Door, window or hole.
    pub what: OpeningWhat,
    /// Width inside the trim.
    pub width: PrototypeLength,
    /// Height inside the trim.
    pub height: PrototypeLength,
    /// Foot above the foot of the wall.
    pub sill: PrototypeLength,
    /// Width of the trim.
    pub trim: PrototypeLength,
}

/// Storeys alike, one above the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Storey {
    /// The storey's name in the job.
    pub name: String,
    /// Floor to floor.
    pub height: PrototypeLength,
    /// How many there are.
    pub count: u32,
    /// How many must stay.
    pub at_least: u32,
}

/// Which face is the front.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Front {
    /// Its place in the list of faces.
    pub index: usize,
    /// The wall it is.
    pub id: FaceId,
}

/// Every face with its sizes.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Read {
    pub(super) rows: Vec<Face>,
    pub(super) front: Front,
}

/// Finds what the sizes of a job come to, and remembers what it noticed.
pub(super) struct Reader<'a> {
    pub(super) job: &'a Job,
    sizes: &'a dyn Fn(&Size) -> Result<SizeFound, Stop>,
    pub(super) findings: Vec<Finding>,
}

/// More storeys than any building has.
const MOST_STOREYS: u32 = 200;

/// Measured sizes this many standard uncertainties from the figure taken are
/// pointed out: about one in twenty by chance.
const FAR: f64 = 2.0;

impl<'a> Reader<'a> {
    pub(super) fn new(job: &'a Job, sizes: &'a dyn Fn(&Size) -> Result<SizeFound, Stop>) -> Self {
        Self { job, sizes, findings: Vec::new() }
    }

    /// What a size comes to; `of` is what it belongs to and `name` how a
    /// person would call it.
    pub(super) fn size(
        &mut self,
        size: &Size,
        of: &Subject,
        name: &str,
    ) -> Result<PrototypeLength, Stop> {
        let found = (self.sizes)(size).map_err(|stop| Stop {
            doing: format!("finding {name}"),
            trouble: format!("{}: {}", stop.doing, stop.trouble),
            ..stop
        })?;
        if !found.value.is_finite() || found.value < PrototypeLength::ZERO {
            return Err(Stop::new(
                format!("finding {name}"),
                format!("it comes to {}", self.show(found.value)),
                "look at the dimensions it is a difference of",
            ));
        }
        self.compare(size, &found, of, name);
        Ok(found.value)
    }

    /// A size that must be more than nothing.
    pub(super) fn width(
        &mut self,
        size: &Size,
        of: &Subject,
        name: &str,
    ) -> Result<PrototypeLength, Stop> {
        let width = self.size(size, of, name)?;
        if width <= PrototypeLength::ZERO {
            return Err(Stop::new(
                format!("finding {name}"),
                "it comes to nothing",
                "give it a size above zero, or take the element out",
            ));
        }
        Ok(width)
    }

    fn compare(&mut self, size: &Size, found: &SizeFound, of: &Subject, name: &str) {
        let (Some(_), Some(measured)) = (&size.take, &found.measured) else {
            return;
        };
        let apart = found.value - measured.value;
        if measured.sigma > PrototypeLength::ZERO && apart.abs() > measured.sigma * FAR {
            let message = format!(
                "{name} is taken as {}, the readings say {}: {:.1} sigma apart",
                self.show(found.value),
                self.show(measured.value),
                apart.abs() / measured.sigma,
            );
            self.findings.push(Finding::look(of.clone(), message, "measure it again, or say why"));
        }
    }

    fn show(&self, length: PrototypeLength) -> String {
        self.job.about.full_notation().show(&length)
    }

    /// Every face of the job with its sizes.
    pub(super) fn faces(&mut self) -> Result<Read, Stop> {
        let job = self.job;
        let front = job.front().ok_or_else(|| super::no_building("laying out faces"))?;
        let said = job.walls.iter().map(|wall| (&wall.of, Some(wall)));
        let missing = job.wall(&front).is_none().then_some((&front, None));
        let rows = said
            .chain(missing)
            .map(|(id, wall)| self.face(id, wall, *id == front))
            .collect::<Result<Vec<_>, _>>()?;
        let index = rows.iter().position(|face| face.id == front).unwrap_or_default();
        Ok(Read { rows, front: Front { index, id: front } })
    }

    /// The storeys, which must come to the eave.
    pub(super) fn storeys(&mut self, eave: PrototypeLength) -> Result<Vec<Storey>, Stop> {
        let job = self.job;
        let mut storeys = Vec::new();
        for storey in job.main().iter().flat_map(|main| &main.storeys) {
            let name = format!("the height of the storey \"{}\"", storey.name);
            let height = self.width(&storey.height, &Subject::Job, &name)?;
            let count = storey.count.unwrap_or(1);
            let at_least = storey.at_least.unwrap_or(count);
            if count == 0 || count > MOST_STOREYS || at_least > count {
                return Err(Stop::new(
                    format!("counting the storey \"{}\"", storey.name),
                    format!("{at_least} of {count} must stay"),
                    "`count` is 1 to 200, and `at-least` no more than that",
                ));
            }
            storeys.push(Storey { name: storey.name.clone(), height, count, at_least });
        }
        let sum: PrototypeLength =
            storeys.iter().map(|storey| storey.height * f64::from(storey.count)).sum();
        if !storeys.is_empty() && !sum.agrees(eave, PrototypeLength::inches(1.0)) {
            return Err(Stop::new(
                "stacking the storeys",
                format!("they come to {}, the eave is at {}", self.show(sum), self.show(eave)),
                "count from the foot of the wall to the eave",
            ));
        }
        Ok(storeys)
    }

    fn face(&mut self, id: &FaceId, wall: Option<&Wall>, is_front: bool) -> Result<Face, Stop> {
        let job = self.job;
        let name = id.to_string();
        let subject = Subject::Element(name.clone());
        let own = if is_front { Own::default() } else { self.own(id)? };
        let along = job.main().and_then(|main| main.length.as_ref()).filter(|_| is_front);
        let said = |of: fn(&Wall) -> &Option<Size>| wall.and_then(|wall| of(wall).as_ref());
        let mut optional = |size: Option<&Size>, what: &str| {
            let name = format!("the {what} of the face \"{name}\"");
            size.map(|size| self.width(size, &subject, &name)).transpose()
        };
        let height = optional(said(|wall| &wall.height), "height")?.or(own.height);
        let length = optional(said(|wall| &wall.length).or(along), "length")?.or(own.length);
        let mut row = self.row(wall.map_or(&[], |wall| &wall.row), &name)?;
        if let (true, Some(length)) = (row.is_empty() && is_front, length) {
            row.push(plain(length));
        }
        if row.is_empty() && length.is_none() && (is_front || id.body != self.main_name()) {
            return Err(Stop::new(
                format!("laying out the face \"{name}\""),
                "it has neither a row nor a length",
                "give it a `row` of elements: its widths are the length of the building",
            ));
        }
        let openings = self.placed(wall.map_or(&[], |wall| &wall.openings), &name)?;
        let title = wall.map(|wall| wall.title.clone()).filter(|title| !title.is_empty());
        Ok(Face {
            id: id.clone(),
            title: title.unwrap_or_else(|| name.clone()),
            name,
            height,
            length,
            ridge: own.ridge,
            gable: job.body(&id.body).is_some_and(|body| body.has_gable(id.side)),
            row,
            openings,
        })
    }

    fn main_name(&self) -> &str {
        self.job.main().map_or("", |main| &main.name)
    }

    /// Length and heights of a wall of a body that is not shortened.
    fn own(&mut self, id: &FaceId) -> Result<Own, Stop> {
        let job = self.job;
        let Some(body) = job.body(&id.body).filter(|body| body.name != self.main_name()) else {
            return Ok(Own::default());
        };
        let subject = Subject::Member(body.name.clone());
        let mut optional = |size: Option<&Size>, what: &str| {
            let name = format!("the {what} of \"{}\"", body.name);
            size.map(|size| self.width(size, &subject, &name)).transpose()
        };
        let length = optional(body.length.as_ref(), "length")?;
        let depth = optional(body.depth.as_ref(), "depth")?;
        let eave = optional(body.eave.as_ref(), "eave")?;
        let meets = optional(body.meets.as_ref(), "height where its roof meets the wall")?;
        let parapet = optional(body.parapet.as_ref(), "parapet")?;
        let ridge = optional(body.roof.as_ref().and_then(|roof| roof.ridge.as_ref()), "ridge")?;
        let across = if body.ridge_runs_out() { length } else { depth };
        let rise = match &body.roof {
            Some(roof) => {
                let pitch = pitch_of(roof.pitch.as_deref())?.unwrap_or_default();
                run(roof.kind, across.unwrap_or_default()) * pitch
            }
            None => PrototypeLength::ZERO,
        };
        let eave = eave.or(meets.map(|meets| meets - rise));
        let top = ridge.or(meets).or(eave.map(|eave| eave + rise));
        Ok(Own {
            length: if id.side.is_end() { depth } else { length },
            height: parapet.or(eave),
            ridge: parapet.or(top),
        })
    }

    fn placed(&mut self, openings: &[JobPlaced], face: &str) -> Result<Vec<Placed>, Stop> {
        let mut out = Vec::new();
        for (number, said) in openings.iter().enumerate() {
            let label = format!("{}@{}", said.kind, number + 1);
            let subject = Subject::Element(format!("{face}/{label}"));
            let name = |what: &str| format!("the {what} of \"{label}\" on the face \"{face}\"");
            let at = self.size(&said.at, &subject, &name("place"))?;
            let mut opening = self.opening(&said.kind, &label, face)?;
            if let Some(sill) = &said.sill {
                opening.sill = self.size(sill, &subject, &name("sill"))?;
            }
            out.push(Placed { label, at, opening });
        }
        Ok(out)
    }

    fn row(&mut self, row: &[JobElement], face: &str) -> Result<Vec<Element>, Stop> {
        row.iter().map(|element| self.element(element, face)).collect()
    }

    fn element(&mut self, element: &JobElement, face: &str) -> Result<Element, Stop> {
        let subject = Subject::Element(format!("{face}/{}", element.name));
        let name = format!("the width of \"{}\" on the face \"{face}\"", element.name);
        let bound = |said: &Option<crate::job::said::Said<Prototype>>| {
            said.as_ref().map(crate::job::said::Said::length)
        };
        let kind = match &element.kind {
            ElementKind::Corner { width } => {
                Kind::Corner { width: self.width(width, &subject, &name)? }
            }
            ElementKind::Plain { width, least, most, group, fixed } => Kind::Plain {
                width: self.width(width, &subject, &name)?,
                least: bound(least),
                most: bound(most),
                group: group.clone(),
                fixed: *fixed,
            },
            ElementKind::Opening { kind, pinned } => Kind::Opening {
                opening: self.opening(kind, &element.name, face)?,
                pinned: bound(pinned),
            },
            ElementKind::Bays { width, least, cycle, times } => Kind::Bays {
                width: self.width(width, &subject, &name)?,
                least: bound(least),
                cycle: cycle
                    .iter()
                    .map(|words| self.stack(words, &element.name, face))
                    .collect::<Result<_, _>>()?,
                times: times.clone(),
            },
            ElementKind::Repeat { row, times } => {
                Kind::Repeat { row: self.row(row, face)?, times: times.clone() }
            }
        };
        Ok(Element { name: element.name.clone(), kind })
    }

    /// One bay's openings: nothing, one, or several one above the other.
    fn stack(&mut self, words: &str, element: &str, face: &str) -> Result<Vec<Opening>, Stop> {
        (words.split('+').map(str::trim).filter(|word| !word.is_empty()))
            .map(|word| self.opening(word, element, face))
            .collect()
    }

    fn opening(&mut self, kind: &str, element: &str, face: &str) -> Result<Opening, Stop> {
        let Some(known) = self.job.openings.iter().find(|opening| opening.name == kind) else {
            return Err(Stop::new(
                format!("laying out \"{element}\" on the face \"{face}\""),
                format!("no [[opening]] is called \"{kind}\""),
                "add one, or name one there is",
            ));
        };
        self.sized_opening(known)
    }

    fn sized_opening(&mut self, known: &OpeningKind) -> Result<Opening, Stop> {
        let subject = Subject::Element(known.name.clone());
        let name = |what: &str| format!("the {what} of the opening \"{}\"", known.name);
        let width = self.width(&known.width, &subject, &name("width"))?;
        let height = self.width(&known.height, &subject, &name("height"))?;
        let mut optional = |size: &Option<Size>, what: &str| {
            size.as_ref()
                .map_or(Ok(PrototypeLength::ZERO), |size| self.size(size, &subject, &name(what)))
        };
        let (sill, trim) = (optional(&known.sill, "sill")?, optional(&known.trim, "trim")?);
        Ok(Opening { kind: known.name.clone(), what: known.what, width, height, sill, trim })
    }
}

/// Length and heights of a wall that do not follow from the main body.
#[derive(Default)]
struct Own {
    length: Option<PrototypeLength>,
    height: Option<PrototypeLength>,
    ridge: Option<PrototypeLength>,
}

/// A front that is only a length: one stretch of wall, never shortened.
fn plain(width: PrototypeLength) -> Element {
    let group = "plain".to_owned();
    let kind = Kind::Plain { width, least: None, most: None, group, fixed: true };
    Element { name: "wall".to_owned(), kind }
}
