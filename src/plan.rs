//! Runs the stages in order.
//!
//! [`plan`] is a pure function of the job and the catalogue: the terminal, the
//! command line and every report read the same [`Plan`]. It holds the quick
//! answers; long ones (proven layouts, Monte Carlo) are worked out beside it
//! and attached by a hash of their input: see [`long`].

mod agree;
mod bounds;
mod judge;
pub mod long;

use std::sync::Arc;

use self::long::{Answer, Ask, InputHash, Kind, Known, Question};
use crate::building::{self, Building, Scheme};
use crate::catalog::Catalog;
use crate::clearance::{self, Clearance, Given};
use crate::compress::compared::{Compared, Comparing};
use crate::compress::long::Asked;
use crate::compress::{self, Compression};
use crate::cutting::long::is_final;
use crate::cutting::parts::{self, Layout, Steps};
use crate::cutting::wanted::Wanted;
use crate::elevation::{self, Faces};
use crate::finding::{Finding, Outcome, Stage, Staged, Stop, Subject};
use crate::job::Job;
use crate::job::photo::Photo;
use crate::lamps::{self, Lighting};
use crate::mockup::{self, MockUp};
use crate::photo::from_job::{self, FIRST_ORDER, Seen, Shot};
use crate::quantity::Scale;
use crate::scaling::{self, Sizes};
use crate::solve::beside::both;
use crate::stock::{self, Choices};
use crate::survey::advice::{self, Next};
use crate::survey::{self, Survey};
use crate::takeoff::{self, Takeoff};

/// What all stages make of a job.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The scale of the model.
    pub scale: Result<Scale, Stop>,
    /// The dimensions of the prototype, from the readings.
    pub survey: Survey,
    /// What to measure next, where there is a scale to weigh it by.
    pub measure_next: Option<Next>,
    /// The faces of the prototype.
    pub faces: Result<Faces, Stop>,
    /// The alternatives, and the building that will be built.
    pub compress: Result<Compression, Stop>,
    /// Length against cost, and other scales, once it is known.
    pub compared: Option<Arc<Compared>>,
    /// The main sizes on the model, and what the survey leaves open in them.
    pub sizes: Option<Sizes>,
    /// What was measured on the mock-up, beside every size planned.
    pub mock_up: Option<MockUp>,
    /// Stock for every section.
    pub stock: Result<Choices, Stop>,
    /// The building in three dimensions.
    pub building: Result<Arc<Building>, Stop>,
    /// The parts of the building.
    pub takeoff: Result<Takeoff, Stop>,
    /// Lengths on the photographs that have marks, with what was noticed there:
    /// intervals by drawing where that is known, else of first order.
    pub photos: Arc<Outcome<Vec<Shot>>>,
    /// Sticks and sheets to cut: the long answer where it is known, else the
    /// quick one.
    pub layout: Result<Layout, Stop>,
    /// What time could answer better.
    pub questions: Vec<Question>,
    /// The building against the track, where there is one.
    pub clearance: Result<Option<Clearance>, Stop>,
    /// The lamps, where there are any.
    pub lamps: Result<Option<Lighting>, Stop>,
    /// What the job says against itself, the dearest first; also among the
    /// findings.
    pub contradictions: Vec<Finding>,
    /// What the stages noticed, in the order of the work.
    pub findings: Vec<Finding>,
}

/// Works out everything that follows from a job.
#[must_use]
pub fn plan(job: &Job, catalog: &Catalog) -> Plan {
    plan_with(job, catalog, &Known::default())
}

/// The same with what is compared beside the alternatives, for a report that
/// cannot fill in later.
#[must_use]
pub fn whole(job: &Job, catalog: &Catalog) -> Plan {
    let mut plan = plan(job, catalog);
    let asked = plan.questions.iter().find_map(|question| match &question.ask {
        Ask::Compared(comparing) => Some(comparing.clone()),
        _ => None,
    });
    plan.compared = asked.map(|comparing| Arc::new(comparing.compare()));
    plan
}

/// The same as [`plan`], with the long answers known so far.
#[must_use]
pub fn plan_with(job: &Job, catalog: &Catalog, known: &Known) -> Plan {
    let (photos, seen, question) = photographs(job, known);
    let Outcome { value: survey, findings } = survey::run_seeing(job, catalog, &seen);
    let mut findings: Vec<Finding> = Stage::Survey.noticed(findings).collect();
    let bare = job.photos.iter().filter(|photo| !photo.has_marks());
    let bare = bare.filter_map(from_job::outside).chain(photos.findings.iter().cloned());
    findings.extend(Stage::Photo.noticed(bare.collect()));
    let scale = catalog.scales.find(&job.about.scale);
    let measure_next = scale.as_ref().ok().map(|scale| advice::next(job, catalog, &survey, scale));
    let faces = staged(Stage::Faces, elevation::lay_out(job, &survey), &mut findings);
    let mut questions: Vec<Question> = question.into_iter().collect();
    let contradictions =
        agree::contradictions(job, catalog, &survey, faces.as_ref().ok(), scale.as_ref().ok());
    let contradictions: Vec<Finding> = Stage::Agreement.noticed(contradictions).collect();
    findings.extend(contradictions.iter().cloned());
    let mut compared = None;
    let mut scheme = None;
    let compress = match (&faces, &scale) {
        (Ok(faces), Ok(scale)) => {
            let standing = Scheme::of(job, &survey, faces);
            findings.extend(Stage::Building.noticed(standing.findings));
            let asked = Arc::new(Asked {
                job: job.clone(),
                look: catalog.look.clone(),
                faces: faces.clone(),
                scheme: Arc::new(standing.value),
                scale: scale.clone(),
            });
            let comparing = Comparing::new(asked.clone(), catalog, &survey);
            scheme = Some(asked.scheme.clone());
            compared = known_comparison(comparing, known, &mut questions, &mut findings);
            let found = shortened(asked, catalog, known, &mut questions);
            staged(Stage::Compress, found, &mut findings)
        }
        (Err(stop), _) | (_, Err(stop)) => Err(stop.clone()),
    };
    let stock = scale.clone().map(|scale| {
        let Outcome { value, findings: noticed } = stocked(job, catalog, &survey, &scale);
        findings.extend(Stage::Stock.noticed(noticed));
        value
    });
    let mut plan = Plan {
        building: Err(unbuilt(&compress, &stock)),
        takeoff: Err(unbuilt(&compress, &stock)),
        layout: Err(unbuilt(&compress, &stock)),
        clearance: Ok(None),
        lamps: Ok(None),
        scale,
        survey,
        measure_next,
        faces,
        compress,
        compared,
        sizes: None,
        mock_up: None,
        stock,
        photos,
        questions,
        contradictions,
        findings,
    };
    plan.add_sizes(job, catalog);
    plan.add_building(job, catalog, scheme.as_deref());
    plan.add_parts_and_clearance(job, catalog, known);
    let wired = plan.building.as_ref().ok().and_then(|building| wired(job, building));
    let lamps = lamps::run(wired.as_ref().unwrap_or(job), catalog);
    plan.lamps = staged(Stage::Lamps, lamps, &mut plan.findings);
    plan
}

/// The photographs measured; to first order too where that had to be worked out;
/// and the question of their drawn intervals.
fn photographs(job: &Job, known: &Known) -> (Arc<Outcome<Vec<Shot>>>, Vec<Seen>, Option<Question>) {
    let photos: Vec<Photo> = job.photos.iter().filter(|p| p.has_marks()).cloned().collect();
    let input = InputHash(from_job::input(&photos));
    let (shots, seen, all) = match known.find(input) {
        Some(Answer::Photographs(shots, all)) => (shots.clone(), Vec::new(), *all),
        _ => {
            let seen = from_job::each(&photos, FIRST_ORDER);
            (Arc::new(from_job::gathered(seen.clone())), seen, photos.is_empty())
        }
    };
    let ask = Ask::Photographs(Arc::new(photos));
    let question = Question { kind: Kind::Photographs, input, ask };
    (shots, seen, (!all).then_some(question))
}

/// The alternatives: the long answer where it is known, else the quick one; with
/// the question that is left.
fn shortened(
    asked: Arc<Asked>,
    catalog: &Catalog,
    known: &Known,
    questions: &mut Vec<Question>,
) -> Staged<Compression> {
    let quick = compress::run(&asked.job, catalog, (&asked.faces, &asked.scheme), &asked.scale)?;
    if quick.value.complete {
        return Ok(quick);
    }
    let input = InputHash(asked.input());
    let found = match known.find(input) {
        Some(Answer::Compress(found)) => found.clone(),
        _ => Arc::new(quick),
    };
    if !found.value.complete {
        let ask = Ask::Compress(asked, found.clone());
        questions.push(Question { kind: Kind::Compress, input, ask });
    }
    Ok(Outcome::clone(&found))
}

/// What is compared beside the alternatives, where it is known; else the question.
/// A scale that is not known is told.
fn known_comparison(
    comparing: Result<Comparing, Stop>,
    known: &Known,
    questions: &mut Vec<Question>,
    findings: &mut Vec<Finding>,
) -> Option<Arc<Compared>> {
    let comparing = match comparing {
        Ok(comparing) => comparing,
        Err(stop) => {
            let trouble = Finding::trouble(Subject::Job, stop.to_string(), stop.hint);
            findings.extend(Stage::Compress.noticed(vec![trouble]));
            return None;
        }
    };
    let input = InputHash(comparing.input());
    if let Some(Answer::Compared(compared)) = known.find(input) {
        return Some(compared.clone());
    }
    let ask = Ask::Compared(Arc::new(comparing));
    questions.push(Question { kind: Kind::Compared, input, ask });
    None
}

/// Only the compression, for a look at an alternative or at a change that is
/// being typed.
///
/// # Errors
///
/// As the stages before it.
pub fn compressed(job: &Job, catalog: &Catalog) -> Result<Compression, Stop> {
    let survey = survey::run(job, catalog).value;
    let scale = catalog.scales.find(&job.about.scale)?;
    let faces = elevation::lay_out(job, &survey)?.value;
    let scheme = Scheme::of(job, &survey, &faces).value;
    Ok(compress::run(job, catalog, (&faces, &scheme), &scale)?.value)
}

/// Why there are no parts.
fn unbuilt(compress: &Result<Compression, Stop>, stock: &Result<Choices, Stop>) -> Stop {
    let stop = compress.as_ref().err().or(stock.as_ref().err());
    stop.cloned().unwrap_or_else(|| Stop::new("taking off the parts", "nothing is built", ""))
}

/// The parts of a building, and how they are cut.
struct Parts {
    takeoff: Takeoff,
    layout: Layout,
    question: Option<Question>,
}

impl Plan {
    fn add_parts_and_clearance(&mut self, job: &Job, catalog: &Catalog, known: &Known) {
        let (Ok(scale), Ok(compress), Ok(stock), Ok(building)) =
            (&self.scale, &self.compress, &self.stock, &self.building)
        else {
            // Track and what stands beside it need no building.
            if let Ok(scale) = &self.scale {
                let alone = clearance::alone(job, catalog, scale);
                self.clearance = staged(Stage::Clearance, alone, &mut self.findings);
            }
            return;
        };
        if let Err(stop) = bounds::parts(job, &self.survey, building, scale) {
            self.takeoff = Err(stop.clone());
            self.layout = Err(stop);
            return;
        }
        let given = Given { job, catalog, compress, building, scale };
        let taken = Taken { job, catalog, survey: &self.survey, compress, building, stock, scale };
        let (clearance, parts) = both(|| clearance::run(given), || parts(taken, known));
        self.findings.extend(parts.findings);
        self.takeoff = Ok(parts.value.takeoff);
        self.layout = Ok(parts.value.layout);
        self.questions.extend(parts.value.question);
        self.clearance = staged(Stage::Clearance, clearance, &mut self.findings);
        if let Ok(Some(clearance)) = &mut self.clearance {
            self.findings.extend(Stage::Clearance.noticed(judge::clearance(clearance)));
        }
    }

    /// The building, raised once.
    fn add_building(&mut self, job: &Job, catalog: &Catalog, scheme: Option<&Scheme>) {
        let (Ok(scale), Ok(compress), Ok(stock), Some(scheme)) =
            (&self.scale, &self.compress, &self.stock, scheme)
        else {
            return;
        };
        let survey = &self.survey;
        let built = &compress.built;
        let raised =
            building::raise(building::Given { job, catalog, survey, built, stock, scale, scheme });
        self.findings.extend(Stage::Building.noticed(raised.findings));
        self.building = Ok(Arc::new(raised.value));
    }

    /// The main sizes on the model, and what was measured of them.
    fn add_sizes(&mut self, job: &Job, catalog: &Catalog) {
        let (Ok(scale), Ok(compress), Ok(faces)) = (&self.scale, &self.compress, &self.faces)
        else {
            return;
        };
        let sized = scaling::run(job, &self.survey, &compress.built, scale);
        let held = mockup::run(job, catalog, (faces, &compress.built), &sized.value, scale);
        self.findings.extend(Stage::Scaling.noticed(sized.findings));
        self.findings.extend(Stage::MockUp.noticed(held.findings));
        self.sizes = Some(sized.value);
        self.mock_up = Some(held.value);
    }
}

/// The job with the runs of wire that follow from the building; nothing where
/// none does.
fn wired(job: &Job, building: &Building) -> Option<Job> {
    if building.wires.is_empty() {
        return None;
    }
    let mut job = job.clone();
    for string in job.lamps.iter_mut().flat_map(|lamps| &mut lamps.strings) {
        let wire = building.wires.iter().find(|wire| wire.string == string.name);
        let run =
            wire.and_then(|wire| format!("{} in", wire.length.length.in_inches()).parse().ok());
        string.run = string.run.take().or(run);
    }
    Some(job)
}

/// What the parts are taken off.
#[derive(Clone, Copy)]
struct Taken<'a> {
    job: &'a Job,
    catalog: &'a Catalog,
    survey: &'a Survey,
    compress: &'a Compression,
    building: &'a Building,
    stock: &'a Choices,
    scale: &'a Scale,
}

/// Takes off the parts and lays them out: the long answer where it is known,
/// else the quick one.
fn parts(given: Taken<'_>, known: &Known) -> Outcome<Parts> {
    let Taken { job, catalog, survey, compress, building, stock, scale } = given;
    let both = (&compress.built, building);
    let mut taken = takeoff::run(job, catalog, survey, both, stock, scale);
    taken.findings.extend(judge::parts(&mut taken.value));
    let wanted = Wanted::of(job, stock, &taken.value, scale);
    let mut findings: Vec<Finding> = Stage::Takeoff.noticed(taken.findings).collect();
    findings.extend(Stage::Cutting.noticed(wanted.findings));
    let input = InputHash(wanted.value.input());
    let laid = match known.find(input) {
        Some(Answer::Layout(laid)) => laid.clone(),
        _ => Arc::new(parts::lay_out(&wanted.value, Steps::QUICK)),
    };
    findings.extend(Stage::Cutting.noticed(laid.findings.clone()));
    let mut layout = laid.value.clone();
    let judged = judge::layout(&mut layout);
    let question = (judged.is_empty() && !is_final(&layout)).then(|| {
        let ask = Ask::Layout(Arc::new(wanted.value), laid);
        Question { kind: Kind::Layout, input, ask }
    });
    findings.extend(Stage::Cutting.noticed(judged));
    Outcome { value: Parts { takeoff: taken.value, layout, question }, findings }
}

fn stocked(job: &Job, catalog: &Catalog, survey: &Survey, scale: &Scale) -> Outcome<Choices> {
    let offers = stock::catalog::offers(catalog);
    let era = stock::catalog::era(job, catalog);
    let actual = |nominal: &str| stock::catalog::actual(catalog, &era, nominal);
    stock::run(job, survey, &offers, &actual, scale)
}

/// Keeps a stage's output and gathers what it noticed.
fn staged<T>(stage: Stage, staged: Staged<T>, findings: &mut Vec<Finding>) -> Result<T, Stop> {
    let Outcome { value, findings: noticed } = staged?;
    findings.extend(stage.noticed(noticed));
    Ok(value)
}
