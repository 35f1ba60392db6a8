//! The thing done every hour: one length in, everything about it out: its size
//! at this scale and another, the nearest stock, and the nearest nominal lumber
//! of each era.

use super::compare::{self, Compared, Comparison};
use super::near::{self, LumberNear, StockNear};
use super::size::Size;
use crate::catalog::Catalog;
use crate::finding::{Finding, Outcome, Staged, Stop, Subject};
use crate::quantity::{
    Length, Model, ModelLength, Prototype, PrototypeLength, Scale, Space, Stated, Written,
};

/// What is asked at the bench.
#[derive(Clone, Debug)]
pub struct Ask {
    /// What is known of the length.
    pub given: Given,
    /// The scale of the model.
    pub scale: Scale,
    /// Another scale to answer for as well.
    pub to: Option<Scale>,
}

/// What is known of the length.
#[derive(Clone, Debug)]
pub enum Given {
    /// Its full size.
    Full(Stated<Written<Prototype>>),
    /// Its size on the model.
    Model(Stated<Written<Model>>),
    /// Its size on a print, beside an object of known size.
    Compared(Box<Comparison>),
}

/// Everything about a length.
#[derive(Clone, Debug)]
pub struct Bench {
    /// Its full size.
    pub full: Size<Prototype>,
    /// One standard uncertainty of it, where it has one.
    pub full_sigma: Option<PrototypeLength>,
    /// Its size on the model.
    pub model: Size<Model>,
    /// One standard uncertainty of it, where it has one.
    pub model_sigma: Option<ModelLength>,
    /// The scale.
    pub scale: Scale,
    /// The same at another scale.
    pub other: Option<Other>,
    /// The nearest size of each rack, the nearest of all first.
    pub stock: Vec<StockNear>,
    /// The nearest nominal size of each era, in the order of the eras.
    pub lumber: Vec<LumberNear>,
    /// How it was found by comparison, if it was.
    pub compared: Option<Compared>,
}

/// A length at another scale.
#[derive(Clone, Debug)]
pub struct Other {
    /// The scale.
    pub scale: Scale,
    /// Its size there.
    pub model: Size<Model>,
    /// What a drawing of the first scale is multiplied by to fit this one: 0.517
    /// from NEM 0 to NEM H0.
    pub redraw: f64,
}

/// Answers what is asked.
///
/// # Errors
///
/// When a length is not above zero where it must be, or numbers outgrow their
/// type.
pub fn answer(ask: &Ask, catalog: &Catalog) -> Staged<Bench> {
    let mut findings = Vec::new();
    let (full, full_sigma, compared) = match &ask.given {
        Given::Full(stated) => {
            notice(stated, &mut findings);
            (Size::exact(stated.value.exact()), sigma(stated), None)
        }
        Given::Model(stated) => {
            notice(stated, &mut findings);
            let full = Size::exact(stated.value.exact()).enlarge(&ask.scale);
            (full, sigma(stated).map(|sigma| ask.scale.enlarge(sigma)), None)
        }
        Given::Compared(comparison) => {
            let found = compare::compare(comparison, &mut findings)?;
            (Size::float(found.size), Some(found.sigma), Some(found))
        }
    };
    let model = match &ask.given {
        Given::Model(stated) => Size::exact(stated.value.exact()),
        _ => full.reduce(&ask.scale),
    };
    finite(model.length())?;
    Ok(Outcome {
        value: Bench {
            model_sigma: full_sigma.map(|sigma| ask.scale.reduce(sigma)),
            other: ask.to.as_ref().map(|scale| other(&full, &ask.scale, scale)),
            stock: near::stock(model.length(), &ask.scale, &catalog.stock),
            lumber: near::lumber(full.length(), &ask.scale, &catalog.lumber),
            scale: ask.scale.clone(),
            full,
            full_sigma,
            model,
            compared,
        },
        findings,
    })
}

fn other(full: &Size<Prototype>, from: &Scale, to: &Scale) -> Other {
    Other { scale: to.clone(), model: full.reduce(to), redraw: from.redraw(to) }
}

fn sigma<S: Space>(stated: &Stated<Written<S>>) -> Option<Length<S>> {
    stated.sigma.as_ref().map(Written::length)
}

/// Hands on what was read over in the text of a length.
fn notice<S: Space>(stated: &Stated<Written<S>>, findings: &mut Vec<Finding>) {
    let notes = stated.value.notice().map(|notice| Finding::note(Subject::Job, notice));
    findings.extend(notes);
}

fn finite(length: ModelLength) -> Result<(), Stop> {
    if length.is_finite() {
        return Ok(());
    }
    Err(Stop::new("converting the length", "it is too large", "give a length of a building"))
}
