//! The nearest stock and the nearest nominal lumber.

use crate::catalog::lumber::{Era, Lumber, Side};
use crate::catalog::stock::Stock;
use crate::quantity::{ModelLength, PrototypeLength, Scale};
use crate::stock::nearest::{Listed, Miss, listed, nearest};

/// A size further off than this share of the wanted one is not called near.
pub const NEAR: f64 = 0.25;

/// The nearest size of one rack: a material, strips or sheets, inches or
/// millimetres.
#[derive(Clone, Debug)]
pub struct StockNear {
    /// The size.
    pub listed: Listed,
    /// What taking it costs.
    pub miss: Miss,
}

/// The nearest nominal size of one era.
#[derive(Clone, Debug)]
pub struct LumberNear {
    /// The era.
    pub era: Era,
    /// The side.
    pub side: Side,
    /// What taking it costs.
    pub miss: Miss,
}

/// The nearest of each rack, the nearest of all first.
pub(super) fn stock(wanted: ModelLength, scale: &Scale, stock: &Stock) -> Vec<StockNear> {
    let mut racks: Vec<Vec<Listed>> = Vec::new();
    for one in listed(stock) {
        let rack = |a: &Listed| (a.material.clone(), a.form, a.unit);
        match racks.iter_mut().find(|known| known.first().map(rack) == Some(rack(&one))) {
            Some(known) => known.push(one),
            None => racks.push(vec![one]),
        }
    }
    let inches = |one: &Listed| one.size.length().in_inches();
    let mut all: Vec<StockNear> = racks
        .into_iter()
        .filter_map(|rack| nearest(wanted.in_inches(), rack, inches))
        .map(|listed| {
            let miss = Miss::of(listed.size.length(), wanted, scale);
            StockNear { listed, miss }
        })
        .collect();
    all.sort_by(|a, b| a.miss.model.abs().total_cmp(&b.miss.model.abs()));
    all
}

/// The nearest nominal size of each era.
pub(super) fn lumber(wanted: PrototypeLength, scale: &Scale, lumber: &Lumber) -> Vec<LumberNear> {
    let inches = |side: &Side| side.actual.length().in_inches();
    let near = |era: &Era| {
        let side = nearest(wanted.in_inches(), lumber.sides(&era.key), inches)?;
        let taken = scale.reduce(side.actual.length());
        let miss = Miss::of(taken, scale.reduce(wanted), scale);
        Some(LumberNear { era: era.clone(), side, miss })
    };
    lumber.eras.iter().filter_map(near).collect()
}
