//! The photographs of a job -> marked pictures -> readings.

use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use super::lengths::{Effort, Found, Measured, run as measure};
use super::marked::{Alike, Focal, Known, Mark, Marked, Plane, Rect};
use super::walls::{self, Joint, families, stray_corner};
use crate::finding::{Finding, Outcome, Stop, Subject};
use crate::job::form::Form;
use crate::job::photo::{Photo, leaves_the_folder};
use crate::quantity::{Notation, PrototypeLength, Unit};
use crate::solve::beside;
use crate::solve::watch::{Standing, Watch};

/// A length of a photograph as a reading of the survey.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What it is a reading of.
    pub of: Form,
    /// The length.
    pub value: PrototypeLength,
    /// Its standard uncertainty.
    pub sigma: PrototypeLength,
    /// Its row in [`Measured::lengths`] and in the covariance, which ties the
    /// readings of one picture together.
    pub row: usize,
    /// Whether the person uses it.
    pub on: bool,
}

/// One photograph, measured. Lengths inside are in metres.
#[derive(Clone, Debug)]
pub struct Shot {
    /// The marks as adjusted.
    pub marked: Marked,
    /// The lengths.
    pub measured: Measured,
    /// Those that are readings.
    pub readings: Vec<Reading>,
    /// What was noticed on it.
    pub findings: Vec<Finding>,
    /// How it hangs together with the other walls of its picture.
    pub joint: Option<Joint>,
}

impl Shot {
    /// A length with its ends: low, value, high.
    #[must_use]
    pub fn ends(found: &Found) -> [PrototypeLength; 3] {
        [found.interval.low, found.value, found.interval.high].map(PrototypeLength::metres)
    }
}

/// Intervals of first order alone.
pub const FIRST_ORDER: Effort = Effort { draws: 0, seed: 1 };

/// A hash of all that the lengths on some photographs depend on.
#[must_use]
pub fn input(photos: &[Photo]) -> u64 {
    let mut hash = DefaultHasher::new();
    // Every field of a photograph is in its debug text.
    format!("photographs {photos:?}").hash(&mut hash);
    hash.finish()
}

/// Measures photographs with the draws behind their intervals, one after the
/// other; the rest is of first order once the watcher stops it, and the answer
/// says whether none was.
#[must_use]
pub fn draw(photos: &[Photo], watch: &mut Watch<'_>) -> (Outcome<Vec<Shot>>, bool) {
    let mut all = Outcome { value: Vec::new(), findings: Vec::new() };
    let mut drawn = 0;
    let mut done = 0;
    for family in families(photos) {
        (watch.tell)(&standing(done));
        let stopped = (watch.stop)();
        done += family.len();
        drawn += if stopped { 0 } else { family.len() };
        let effort = if stopped { FIRST_ORDER } else { Effort::default() };
        let own: Vec<Photo> = family.into_iter().cloned().collect();
        let one = run(&own, effort);
        all.value.extend(one.value);
        all.findings.extend(one.findings);
    }
    (all, drawn == photos.len())
}

/// Where drawing stands.
#[must_use]
pub fn standing(done: usize) -> Standing {
    let noun = if done == 1 { "photograph" } else { "photographs" };
    Standing {
        phase: "drawing the intervals",
        best: format!("{done} {noun} done"),
        bound: String::new(),
    }
}

/// That a picture is read from outside the folder of the job: said, since a job
/// may come from someone else.
#[must_use]
pub fn outside(photo: &Photo) -> Option<Finding> {
    leaves_the_folder(&photo.file).then(|| {
        Finding::look(
            Subject::Photo(photo.id.clone()),
            format!("its picture is read from outside the job's folder: {}", photo.file),
            "see that this is meant, or copy the picture beside the job",
        )
    })
}

/// A photograph measured, or why it cannot be.
#[derive(Clone, Debug)]
pub struct Seen {
    /// Its name.
    pub photo: String,
    /// What it shows.
    pub shot: Result<Shot, Stop>,
}

/// Measures photographs that have marks. One that cannot be measured becomes a
/// finding; the others stand.
#[must_use]
pub fn run(photos: &[Photo], effort: Effort) -> Outcome<Vec<Shot>> {
    gathered(each(photos, effort))
}

/// Measures each photograph that has marks.
#[must_use]
pub fn each(photos: &[Photo], effort: Effort) -> Vec<Seen> {
    let families: Vec<Vec<&Photo>> =
        families(photos).into_iter().filter(|family| family[0].has_marks()).collect();
    let mut seen: Vec<Seen> = beside::each(&families, |family| of_family(family, photos, effort))
        .into_iter()
        .flatten()
        .collect();
    let place = |seen: &Seen| photos.iter().position(|photo| photo.id == seen.photo);
    seen.sort_by_key(place);
    seen
}

/// The walls of one picture, together where they go together.
fn of_family(family: &[&Photo], all: &[Photo], effort: Effort) -> Vec<Seen> {
    let alone = |more: &dyn Fn(&Photo) -> Option<Finding>| {
        let one = |photo: &&Photo| {
            let mut shot = shot(photo, effort);
            if let Ok(shot) = &mut shot {
                shot.findings.extend(more(photo));
            }
            Seen { photo: photo.id.clone(), shot }
        };
        family.iter().map(one).collect()
    };
    if family.len() == 1 {
        return alone(&|photo| stray_corner(photo, all));
    }
    match walls::shots(family, effort) {
        Ok(shots) => {
            let shot = |(photo, mut shot): (&&Photo, Shot)| {
                shot.findings.extend(outside(photo));
                Seen { photo: photo.id.clone(), shot: Ok(shot) }
            };
            family.iter().zip(shots).map(shot).collect()
        }
        Err(stop) => alone(&|photo| {
            let message = format!("its walls are measured one by one: {stop}");
            Some(Finding::look(Subject::Photo(photo.id.clone()), message, stop.hint.to_string()))
        }),
    }
}

/// Those that could be measured, with what was noticed on all.
#[must_use]
pub fn gathered(seen: Vec<Seen>) -> Outcome<Vec<Shot>> {
    let (mut shots, mut findings) = (Vec::new(), Vec::new());
    for Seen { photo, shot } in seen {
        match shot {
            Ok(shot) => {
                findings.extend(shot.findings.iter().cloned());
                shots.push(shot);
            }
            Err(stop) => {
                findings.push(Finding::trouble(Subject::Photo(photo), stop.to_string(), stop.hint));
            }
        }
    }
    Outcome { value: shots, findings }
}

/// Measures one photograph.
///
/// # Errors
/// A name that is not there, or a degenerate case of [`super::trouble`].
pub fn shot(photo: &Photo, effort: Effort) -> Result<Shot, Stop> {
    let marked = marked(photo)?;
    let Outcome { value: measured, mut findings } = measure(&marked, effort)?;
    findings.extend(outside(photo));
    let readings = readings(photo, &marked, &measured);
    Ok(Shot { readings, marked, measured, findings, joint: None })
}

/// The lengths of a photograph that are readings.
pub(super) fn readings(photo: &Photo, marked: &Marked, measured: &Measured) -> Vec<Reading> {
    let readings = photo.asks.iter().zip(&marked.asked).filter_map(|(ask, span)| {
        let row = measured.lengths.iter().position(|found| found.span == *span)?;
        let found = &measured.lengths[row];
        Some(Reading {
            of: ask.reads.clone()?,
            value: PrototypeLength::metres(found.value),
            sigma: PrototypeLength::metres(found.sigma),
            row,
            on: !ask.off && found.withheld.is_none(),
        })
    });
    readings.collect()
}

/// The marked picture of a photograph, lengths in metres.
///
/// # Errors
/// When it has no size, or speaks of a mark, rectangle or plane it has not.
pub fn marked(photo: &Photo) -> Result<Marked, Stop> {
    let stop = |trouble: String, hint: &str| {
        Stop::new(format!("reading the marks of photograph {}", photo.id), trouble, hint)
    };
    let pixels = photo
        .pixels
        .ok_or_else(|| stop("its size is not said".to_owned(), "write pixels = [width, height]"))?;
    let mut marked = Marked::bare(&photo.id, pixels);
    marked.origin = photo.origin();
    marked.frame = photo.frame;
    marked.distortion = photo.distortion.unwrap_or(true);
    marked.focal = photo.focal.map(|pixels| Focal { pixels, relative: 0.04 });
    marked.click = photo.click.unwrap_or(1.0);
    marked.notation = Some(notation(photo));
    add_marks(photo, &mut marked).map_err(|name| {
        stop(format!("there is no plane \"{name}\""), "name a [[photo.plane]] of this photograph")
    })?;
    add_lengths(photo, &mut marked)
        .map_err(|trouble| stop(trouble, "write rect:width, rect:height or mark..mark"))?;
    Ok(marked)
}

/// As the person wrote the lengths that are known.
fn notation(photo: &Photo) -> Notation {
    let metric = |text: &str| !text.contains(['\'', '"', 'f', 'i']);
    let said = photo.known.first().map_or("", |known| known.value.text());
    if !said.is_empty() && metric(said) {
        Notation::Decimal(Unit::Metre, 3)
    } else {
        Notation::BUILDING
    }
}

fn add_marks(photo: &Photo, marked: &mut Marked) -> Result<(), String> {
    let place = |named: &Option<String>| {
        let at = |name: &String| photo.planes.iter().position(|p| p.id == *name);
        named.as_ref().map(|name| at(name).ok_or(name.clone())).transpose()
    };
    for rect in &photo.rects {
        let (first, plane) = (marked.marks.len(), place(&rect.plane)?);
        for (corner, at) in ["tl", "tr", "br", "bl"].into_iter().zip(rect.corners) {
            let id = format!("{}_{corner}", rect.id);
            marked.marks.push(Mark { plane, ..Mark::new(&id, at) });
        }
        let corners = [first, first + 1, first + 2, first + 3];
        marked.rects.push(Rect { id: rect.id.clone(), corners });
    }
    for mark in &photo.marks {
        let plane = place(&mark.plane)?;
        marked.marks.push(Mark { plane, ..Mark::new(&mark.id, mark.at) });
    }
    marked.planes = photo
        .planes
        .iter()
        .map(|plane| Plane {
            ahead: plane.ahead.length().in_metres(),
            sigma: plane.sigma.as_ref().map_or(0.0, |s| s.length().in_metres().abs()),
        })
        .collect();
    Ok(())
}

fn add_lengths(photo: &Photo, marked: &mut Marked) -> Result<(), String> {
    let group = |names: &Vec<String>| {
        names.iter().map(|name| marked.find(name)).collect::<Result<Vec<usize>, String>>()
    };
    let level = photo.level.iter().map(group).collect::<Result<_, _>>()?;
    let plumb = photo.plumb.iter().map(group).collect::<Result<_, _>>()?;
    (marked.level, marked.plumb) = (level, plumb);
    for known in &photo.known {
        let span = marked.span(&known.of)?;
        let [value, sigma] = [&known.value, &known.sigma].map(|said| said.length().in_metres());
        marked.known.push(Known { span, value, sigma: sigma.abs() });
    }
    for alike in &photo.alike {
        let (a, b) = (marked.span(&alike.of)?, marked.span(&alike.to)?);
        let (ratio, sigma) = (alike.ratio.unwrap_or(1.0), 0.01 * alike.percent.unwrap_or(0.5));
        marked.alike.push(Alike { a, b, ratio, sigma });
    }
    for ask in &photo.asks {
        let span = marked.span(&ask.of)?;
        marked.asked.push(span);
    }
    Ok(())
}
