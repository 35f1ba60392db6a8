//! What to buy: what the layouts need, less what is on hand, and spares apart.
//!
//! Nesting waste is in what is needed; breakage is what spares are for.

use std::collections::{BTreeMap, BTreeSet};

use super::amount::Amount;
use super::parts::{Layout, SheetGroup, StickGroup};
use crate::catalog::rack::Rack;
use crate::quantity::ModelLength;
use crate::stock::{Choices, Sold};
use crate::takeoff::core::spares;
use crate::takeoff::{Kind, Takeoff};

/// What a line of the list buys.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Buys {
    /// Strip, cut to length.
    Sticks,
    /// Sheet that strips are ripped from.
    SheetsToRip,
    /// Sheet that flat parts are cut from.
    Sheets,
    /// Castings.
    Castings,
}

impl Buys {
    /// The word in lists.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sticks => "sticks",
            Self::SheetsToRip => "sheets to rip",
            Self::Sheets => "sheets",
            Self::Castings => "castings",
        }
    }
}

/// One line of the shopping list.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The stock, as it is sold.
    pub stock: String,
    /// What of it.
    pub buys: Buys,
    /// Its size, as far as it has one: across and along the grain.
    pub size: (ModelLength, ModelLength),
    /// What the layout needs.
    pub needed: u32,
    /// What of it is on hand.
    pub on_hand: u32,
    /// For breakage.
    pub spare: u32,
    /// Share of the needed that does not become parts; nothing for castings.
    pub waste: Option<f64>,
    /// What the plan of the stock costs and what none can beat, on its first
    /// line; nothing where that is not worked out.
    pub best: Option<[Amount; 2]>,
    /// Whether the layout is proven to be the best.
    pub proven: bool,
    /// Price of one, in the smallest coin.
    pub price: Option<i64>,
}

impl Line {
    /// How many to buy: needed and spare, less those on hand.
    #[must_use]
    pub fn to_buy(&self) -> u32 {
        (self.needed + self.spare).saturating_sub(self.on_hand)
    }

    /// What they cost, where the price is known.
    #[must_use]
    pub fn cost(&self) -> Option<i64> {
        Some(self.price? * i64::from(self.to_buy()))
    }
}

/// The whole list: sticks, sheets, castings.
#[must_use]
pub fn list(layout: &Layout, stock: &Choices, takeoff: &Takeoff, rack: &Rack) -> Vec<Line> {
    sources(layout)
        .into_iter()
        .map(|source| match source {
            Source::Sticks(at, size) => stick_line(&layout.sticks[at], size, stock),
            Source::Sheets(at, size) => sheet_line(&layout.sheets[at], size, stock),
        })
        .chain(castings(takeoff, rack))
        .collect()
}

/// What a line of the list rests on: the stock, by place in the layout, and the
/// size of it, by place among those that can be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Sticks of one length.
    Sticks(usize, usize),
    /// Sheets of one size.
    Sheets(usize, usize),
}

/// What the lines of the list rest on, castings left out: every size that the
/// plan takes new, or the first where all is on hand. Sticks that are ripped
/// are bought as sheets.
#[must_use]
pub fn sources(layout: &Layout) -> Vec<Source> {
    let sticks = layout.sticks.iter().enumerate().filter(|(_, group)| !group.is_ripped());
    let sticks = sticks.flat_map(|(at, group)| {
        let new = |size: usize| group.strips[size].supply.is_none();
        let taken = group.layout.cuts.iter().map(|cut| cut.stock);
        sizes(taken, new).into_iter().map(move |size| Source::Sticks(at, size))
    });
    let sheets = layout.sheets.iter().enumerate().flat_map(|(at, group)| {
        let new = |size: usize| group.sheets[size].supply.is_none();
        let taken = group.layout.sheets.iter().map(|sheet| sheet.stock);
        sizes(taken, new).into_iter().map(move |size| Source::Sheets(at, size))
    });
    sticks.chain(sheets).collect()
}

/// The new sizes among those taken; the first size where all is on hand, and
/// none where nothing is laid out.
fn sizes(taken: impl Iterator<Item = usize>, new: impl Fn(usize) -> bool) -> Vec<usize> {
    let all: BTreeSet<usize> = taken.collect();
    let fresh: Vec<usize> = all.iter().copied().filter(|&size| new(size)).collect();
    if fresh.is_empty() && !all.is_empty() { vec![0] } else { fresh }
}

fn price(
    stock: &Choices,
    name: &str,
    strip: bool,
    (width, length): (ModelLength, ModelLength),
) -> Option<i64> {
    let hair = ModelLength::thou(1.0);
    let same = |sold: &&Sold| {
        sold.length.agrees(length, hair) && (strip || sold.width.agrees(width, hair))
    };
    let choice = stock.choices.iter().find(|choice| {
        choice.taken().is_some_and(|made| made.stock == name && made.sheet.is_none() == strip)
    })?;
    choice.sold.iter().find(same).and_then(|sold| sold.price)
}

/// Strip as it comes, so many to a stick where it is glued up in layers.
fn stick_line(group: &StickGroup, size: usize, stock: &Choices) -> Line {
    let layers = group.made_up.as_ref().map_or(1, |made| made.layers);
    let name = group.made_up.as_ref().map_or(&group.stock, |made| &made.from);
    let first = group.new_sticks().map(|cut| cut.stock).min().is_none_or(|least| least == size);
    let here = || group.new_sticks().filter(|cut| cut.stock == size);
    let fresh: u32 = here().map(|cut| cut.times).sum();
    let on_hand = if first { group.on_hand() } else { 0 };
    let bought = group.strips[size].bought;
    let used: ModelLength = here().map(|cut| group.used_of(cut)).sum();
    Line {
        stock: name.clone(),
        buys: Buys::Sticks,
        size: (ModelLength::ZERO, bought),
        needed: (fresh + on_hand) * layers,
        on_hand: on_hand * layers,
        spare: if first { group.spare * layers } else { 0 },
        waste: (fresh > 0).then(|| 1.0 - used / (bought * f64::from(fresh))),
        best: (first && layers == 1).then(|| group.amounts()),
        proven: group.layout.proven,
        price: price(stock, name, true, (ModelLength::ZERO, bought)),
    }
}

/// One spare sheet for the largest part, where there is any new one and more
/// than strips comes from it: of those some are spare already.
fn sheet_line(group: &SheetGroup, size: usize, stock: &Choices) -> Line {
    let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    let new = || group.layout.sheets.iter().filter(|sheet| group.is_new(sheet));
    let first = new().map(|sheet| sheet.stock).min().is_none_or(|least| least == size);
    let here = || new().filter(|sheet| sheet.stock == size);
    let fresh = count(here().count());
    let on_hand = if first { count(group.on_hand()) } else { 0 };
    let used: f64 = here().map(|sheet| sheet.used).sum();
    let sheet = &group.sheets[size];
    let ripped = group.is_ripped();
    Line {
        stock: group.stock.clone(),
        buys: if ripped { Buys::SheetsToRip } else { Buys::Sheets },
        size: (sheet.width, sheet.height),
        needed: fresh + on_hand,
        on_hand,
        spare: u32::from(first && fresh > 0 && !ripped),
        waste: (fresh > 0).then(|| 1.0 - used / f64::from(fresh)),
        best: first.then(|| group.amounts()),
        proven: group.layout.proven,
        price: price(stock, &group.stock, false, (sheet.width, sheet.height)),
    }
}

/// Castings by the opening they fill, all walls together.
fn castings(takeoff: &Takeoff, rack: &Rack) -> Vec<Line> {
    let mut by_name: BTreeMap<&str, Line> = BTreeMap::new();
    for part in takeoff.parts.iter().filter(|part| part.kind == Kind::Casting) {
        let own = rack.casting(&part.section);
        let line = by_name.entry(part.section.as_str()).or_insert_with(|| Line {
            stock: part.section.clone(),
            buys: Buys::Castings,
            size: (part.model_width, part.model_length),
            needed: 0,
            on_hand: own.and_then(|own| own.count).unwrap_or(0),
            spare: 0,
            waste: None,
            best: None,
            proven: true,
            price: own.and_then(|own| own.price),
        });
        line.needed += part.count;
        line.spare = spares(line.needed);
    }
    by_name.into_values().collect()
}
