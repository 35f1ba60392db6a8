//! What is held against the structure: cars, full-size rules, published
//! outlines. Each stays by itself; they are never merged.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::body::{Block, Body, SLICE};
use super::chain::Chain;
use super::section::Section;
use super::sweep::Sweep;
use crate::catalog::cars::Car;
use crate::catalog::clearances::{Clearances, Outline, Rule};
use crate::finding::Stop;
use crate::quantity::slack::{NOTHING, WHOLE};
use crate::quantity::{ModelLength, PrototypeLength, Scale};

/// What kind of thing is held against the structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A car of the model, with the margin.
    Car,
    /// A full-size rule, as it stands.
    Rule,
    /// A published outline for models, as it stands.
    Outline,
}

/// A car, rule or outline carried along the track.
#[derive(Debug)]
pub(super) struct Standard<'a> {
    pub(super) name: String,
    pub(super) kind: Kind,
    pub(super) source: String,
    pub(super) want: f64,
    main: Sweep<'a>,
    variants: Variants<'a>,
}

/// How a standard differs from place to place.
#[derive(Debug)]
enum Variants<'a> {
    None,
    /// Platforms may stand nearer: by the height of their top.
    Platforms {
        rule: Box<Rule>,
        for_what: Option<&'a str>,
        scale: &'a Scale,
    },
    /// Wider on curves, on both sides; kept once made, by tenths of a
    /// millimetre.
    Widened {
        outline: &'a Outline,
        data: &'a Clearances,
        group: &'a str,
        /// The curve is felt this far along the track beyond its ends.
        felt: f64,
        made: Mutex<BTreeMap<u32, Arc<Sweep<'a>>>>,
    },
}

fn inches(length: ModelLength) -> f64 {
    length.in_inches()
}

impl<'a> Standard<'a> {
    /// A car, with the margin it wants.
    pub(super) fn car(
        chain: &'a Chain,
        car: &Car,
        scale: &Scale,
        half_gauge: f64,
        want: f64,
    ) -> Result<Self, Stop> {
        let body = car_body(car, scale)?;
        let main = carried(chain, body, half_gauge, &car.key, scale)?;
        let (name, source) = (car.key.clone(), car.source.clone());
        Ok(Self { name, kind: Kind::Car, source, want, main, variants: Variants::None })
    }

    /// A full-size rule; on curves it swings with a car, so that a curve leaves
    /// as much free beside the car as straight track does.
    pub(super) fn rule(
        chain: &'a Chain,
        rule: &Rule,
        car: &Car,
        scale: &'a Scale,
        for_what: Option<&'a str>,
    ) -> Result<Self, Stop> {
        let model = |full: PrototypeLength| inches(scale.reduce(full));
        let width = car_width(car);
        let side = rule.side(width).unwrap_or(width / 2.0);
        // A rule that says nothing of overhead counts to any height.
        let top = rule.overhead.as_ref().map_or(PrototypeLength::feet(60.0), |it| it.length());
        let arch = rule.arch.as_ref().map(|it| model(it.length()));
        let section = match arch {
            Some(arch) => arched(model(side), model(top), arch),
            None => Section::rectangle(model(side), 0.0, model(top)),
        };
        let section = section.ok_or_else(|| {
            Stop::new(format!("reading the rule {}", rule.key), "it leaves no room at all", "")
        })?;
        let half = model(car.length.length()) / 2.0;
        let body = Body {
            centres: model(car.centres.length()),
            blocks: vec![Block::new([-half, half], section)],
        };
        let main = carried(chain, body, 0.0, &rule.key, scale)?;
        Ok(Self {
            name: rule.key.clone(),
            kind: Kind::Rule,
            source: format!("{}, {}", rule.source, rule.edition),
            want: 0.0,
            main,
            variants: Variants::Platforms { rule: Box::new(rule.clone()), for_what, scale },
        })
    }

    /// A published outline, which stands square on the centre line; with the part
    /// for the wire where one hangs over the track.
    pub(super) fn outline(
        chain: &'a Chain,
        outline: &'a Outline,
        data: &'a Clearances,
        group: &'a str,
        felt: f64,
        wire: bool,
    ) -> Result<Self, Stop> {
        let block = |points: Vec<[ModelLength; 2]>| {
            let points = points.iter().map(|point| point.map(inches)).collect();
            let section = Section::new(points).ok_or_else(|| {
                Stop::new(format!("reading the outline {}", outline.key), "it holds no area", "")
            })?;
            Ok(Block::new([-SLICE, SLICE], section))
        };
        let mut blocks = vec![block(outline.points(false))?];
        if wire {
            blocks.push(block(outline.wire())?);
        }
        let body = Body { centres: 0.0, blocks };
        let main = Sweep::new(chain, body, 0.0).ok_or_else(|| {
            Stop::new(format!("setting {} on the track", outline.key), "it does not go", "")
        })?;
        let made = Mutex::default();
        Ok(Self {
            name: outline.key.clone(),
            kind: Kind::Outline,
            source: format!("{}, {}", outline.source, outline.edition),
            want: 0.0,
            main,
            variants: Variants::Widened { outline, data, group, felt, made },
        })
    }

    /// The standard as it is for most things.
    pub(super) fn main(&self) -> &Sweep<'a> {
        &self.main
    }

    /// Half the width that counts for a platform with its top at a height.
    pub(super) fn platform(&self, top: f64) -> Option<f64> {
        let Variants::Platforms { rule, for_what, scale } = &self.variants else { return None };
        let full = scale.enlarge(ModelLength::inches(top));
        Some(inches(scale.reduce(rule.platform(full, *for_what)?)))
    }

    /// The standard with another half width over its whole height.
    pub(super) fn narrowed(&self, half: f64) -> Option<Sweep<'a>> {
        let [low, high] = self.main.body().heights();
        let section = Section::rectangle(half, low, high)?;
        let mut body = self.main.body().clone();
        body.blocks = body.blocks.iter().map(|it| it.with(section.clone())).collect();
        Some(self.main.with(body))
    }

    /// The outline as wide as it has to be at a place along the track; the
    /// standard itself where nothing is added. Nothing where the sheet prints no
    /// value for the curve there.
    pub(super) fn widened(&self, along: f64) -> Option<Option<Arc<Sweep<'a>>>> {
        let Variants::Widened { outline, data, group, felt, made } = &self.variants else {
            return Some(None);
        };
        let bend = self.main.chain().sharpest_between(along - felt, along + felt);
        if bend < NOTHING {
            return Some(None);
        }
        let radius = ModelLength::inches(1.0 / bend);
        let by = data.widening(&outline.key, radius, group)?;
        let tenths = (by.in_millimetres() * 10.0 - WHOLE).ceil().max(0.0) as u32;
        if tenths == 0 {
            return Some(None);
        }
        let make = || {
            let by = ModelLength::millimetres(f64::from(tenths) / 10.0);
            let mut body = self.main.body().clone();
            // The part for the wire stays as it is.
            body.blocks[0] = body.blocks[0].widened(inches(by));
            Arc::new(self.main.with(body))
        };
        let mut made = made.lock().unwrap_or_else(PoisonError::into_inner);
        Some(Some(made.entry(tenths).or_insert_with(make).clone()))
    }
}

/// Upright sides, and over them a half circle up to the top; as straight pieces
/// that stand off from it by no more than its radius times 3e-4, half inside and
/// half outside.
fn arched(side: f64, top: f64, radius: f64) -> Option<Section> {
    const PIECES: u32 = 32;
    let turn = std::f64::consts::FRAC_PI_2 / f64::from(PIECES);
    let out = radius * 2.0 / (1.0 + (turn / 2.0).cos());
    let spring = top - radius;
    let point = |n: u32| {
        let (sin, cos) = (turn * f64::from(n)).sin_cos();
        [(out * cos).max(0.0), spring + out * sin]
    };
    let foot = [side, 0.0];
    let shoulder = (side > out).then_some([side, spring]);
    let arch = (0..=PIECES).map(point).map(|[half, up]| [half, up.min(top)]);
    Section::new([foot].into_iter().chain(shoulder).chain(arch).collect())
}

fn carried<'a>(
    chain: &'a Chain,
    body: Body,
    half_gauge: f64,
    name: &str,
    scale: &Scale,
) -> Result<Sweep<'a>, Stop> {
    let centres = ModelLength::inches(body.centres);
    Sweep::new(chain, body, half_gauge).ok_or_else(|| {
        let full: PrototypeLength = scale.enlarge(centres);
        Stop::new(
            format!("setting {name} on the track"),
            format!(
                "the sharpest curve, of {:.2} in radius, is under half its truck centres of {:.2} in ({:.1} ft full size)",
                1.0 / chain.sharpest(),
                centres.in_inches(),
                full.in_feet()
            ),
            "look at the radius and the car",
        )
    })
}

/// The greatest width of a car.
pub(super) fn car_width(car: &Car) -> PrototypeLength {
    let steps = car.steps.iter().map(|steps| steps.width.length());
    let profile = car.profile.iter().map(|point| point[0].length());
    profile.chain(steps).fold(PrototypeLength::ZERO, PrototypeLength::max)
}

/// A car on the model: its body, and the steps at its ends.
fn car_body(car: &Car, scale: &Scale) -> Result<Body, Stop> {
    let model = |full: PrototypeLength| inches(scale.reduce(full));
    let stop = |trouble: String| {
        let doing = format!("building the car {}", car.key);
        Stop::new(doing, trouble, "look at its row in [[car]] or cars.toml")
    };
    if let Some(trouble) = car.trouble() {
        return Err(stop(trouble));
    }
    let points = car.profile.iter();
    let points = points.map(|[width, high]| [model(width.length()) / 2.0, model(high.length())]);
    let section = Section::new(points.collect());
    let section = section.ok_or_else(|| stop("its profile holds no area".to_owned()))?;
    let half = model(car.length.length()) / 2.0;
    let mut blocks = vec![Block::new([-half, half], section)];
    if let Some(steps) = &car.steps {
        let [low, high] = [&steps.low, &steps.high].map(|at| model(at.length()));
        let section = Section::rectangle(model(steps.width.length()) / 2.0, low, high);
        let section = section.ok_or_else(|| stop("its steps hold no area".to_owned()))?;
        let from = half - model(steps.length.length()).min(half);
        blocks.push(Block::new([from, half], section.clone()));
        blocks.push(Block::new([-half, -from], section));
    }
    Ok(Body { centres: model(car.centres.length()), blocks })
}
