//! What to buy: what the layouts need, less what is on hand, and spares apart.
//!
//! Nesting waste is in what is needed; breakage is what spares are for.

use std::collections::BTreeMap;

use super::parts::{Layout, SheetGroup, StickGroup};
use super::wanted::MadeUp;
use crate::catalog::rack::Rack;
use crate::quantity::ModelLength;
use crate::stock::{Choices, Match};
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
    /// No layout needs fewer; nothing where that is not worked out.
    pub bound: Option<i64>,
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

/// The whole list: sticks, sheets to rip, sheets, castings.
#[must_use]
pub fn list(layout: &Layout, stock: &Choices, takeoff: &Takeoff, rack: &Rack) -> Vec<Line> {
    let made: BTreeMap<&str, &Match> = stock
        .choices
        .iter()
        .filter_map(|choice| choice.taken())
        .map(|made| (made.stock.as_str(), made))
        .collect();
    let price = |name: &str| made.get(name).and_then(|made| made.price);
    sources(layout)
        .into_iter()
        .map(|source| match source {
            Source::Sticks(at) => stick_line(&layout.sticks[at], &price),
            Source::Ripped(groups) => ripped(layout, &groups, rack, &price),
            Source::Sheets(at) => sheet_line(&layout.sheets[at], price(&layout.sheets[at].stock)),
        })
        .chain(castings(takeoff, rack))
        .collect()
}

/// What a line of the list rests on, by place in the layout.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Source {
    /// Sticks of one stock.
    Sticks(usize),
    /// Sticks ripped from one sheet.
    Ripped(Vec<usize>),
    /// Sheets of one stock.
    Sheets(usize),
}

/// What the lines of the list rest on, castings left out.
#[must_use]
pub fn sources(layout: &Layout) -> Vec<Source> {
    let mut sticks = Vec::new();
    let mut ripped: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (at, group) in layout.sticks.iter().enumerate() {
        match group.made_up.as_ref().filter(|made| made.sheet.is_some()) {
            Some(made) => ripped.entry(made.from.as_str()).or_default().push(at),
            None => sticks.push(Source::Sticks(at)),
        }
    }
    let sheets = (0..layout.sheets.len()).map(Source::Sheets);
    sticks.into_iter().chain(ripped.into_values().map(Source::Ripped)).chain(sheets).collect()
}

/// Strip as it comes, so many to a stick where it is glued up in layers.
fn stick_line(group: &StickGroup, price: &dyn Fn(&str) -> Option<i64>) -> Line {
    let layers = group.made_up.as_ref().map_or(1, |made| made.layers);
    let stock = group.made_up.as_ref().map_or(&group.stock, |made| &made.from);
    Line {
        stock: stock.clone(),
        buys: Buys::Sticks,
        size: (ModelLength::ZERO, group.bought),
        needed: (group.count() + group.on_hand()) * layers,
        on_hand: group.on_hand() * layers,
        spare: group.spare * layers,
        waste: (group.count() > 0).then(|| group.waste()),
        bound: (layers == 1).then_some(group.layout.bound),
        proven: group.layout.proven,
        price: price(stock),
    }
}

/// Sheets that strips are ripped from. Strips of several widths share a sheet.
fn ripped(
    layout: &Layout,
    groups: &[usize],
    rack: &Rack,
    price: &dyn Fn(&str) -> Option<i64>,
) -> Line {
    let made: Vec<(&StickGroup, &MadeUp)> = groups
        .iter()
        .filter_map(|&at| Some((&layout.sticks[at], layout.sticks[at].made_up.as_ref()?)))
        .collect();
    let (across, along) = made.iter().find_map(|(_, made)| made.sheet).unwrap_or_default();
    let kerf = made.first().map_or(ModelLength::ZERO, |(group, _)| group.kerf);
    let sheet = made.first().map_or("", |(_, made)| made.from.as_str());
    let strips = |(group, made): &(&StickGroup, &MadeUp)| {
        let count = (group.count() + group.spare) * made.layers;
        std::iter::repeat_n(made.width, count as usize)
    };
    let needed = sheets_for(made.iter().flat_map(strips).collect(), across, kerf);
    let part = |(group, made): &(&StickGroup, &MadeUp)| {
        (group.used() * made.width).in_square_inches() * f64::from(made.layers)
    };
    let used: f64 = made.iter().map(part).sum();
    let all = (across * along).in_square_inches() * f64::from(needed);
    let own = rack.rows.iter().any(|row| row.name == sheet);
    Line {
        stock: sheet.to_owned(),
        buys: Buys::SheetsToRip,
        size: (across, along),
        needed,
        // What is on hand and not counted is taken to be enough.
        on_hand: if own { rack.count(sheet).unwrap_or(needed).min(needed) } else { 0 },
        spare: 0,
        waste: (all > 0.0).then(|| 1.0 - used / all),
        bound: None,
        proven: false,
        price: price(sheet),
    }
}

/// Sheets of a width that strips are ripped from, a cut between two strips:
/// the widest first, each on the first sheet that has room.
#[must_use]
pub fn sheets_for(mut widths: Vec<ModelLength>, across: ModelLength, kerf: ModelLength) -> u32 {
    widths.sort_by(|a, b| b.total_cmp(a));
    let slack = ModelLength::thou(1e-6);
    let mut left: Vec<ModelLength> = Vec::new();
    for width in widths {
        match left.iter_mut().find(|left| **left + slack >= width) {
            Some(room) => *room = *room - width - kerf,
            None => left.push(across - width - kerf),
        }
    }
    u32::try_from(left.len()).unwrap_or(u32::MAX)
}

/// One spare sheet for the largest part, where there is any.
fn sheet_line(group: &SheetGroup, price: Option<i64>) -> Line {
    let count = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    let fresh = count(group.count());
    let needed = fresh + count(group.on_hand());
    let bought = group.sheets.iter().find(|sheet| sheet.supply.is_none());
    let new = group.layout.sheets.iter().filter(|sheet| group.is_new(sheet));
    let used: f64 = new.map(|sheet| sheet.used).sum();
    Line {
        stock: group.stock.clone(),
        buys: Buys::Sheets,
        size: bought.map_or((ModelLength::ZERO, ModelLength::ZERO), |s| (s.width, s.height)),
        needed,
        on_hand: count(group.on_hand()),
        spare: u32::from(fresh > 0),
        waste: (fresh > 0).then(|| 1.0 - used / f64::from(fresh)),
        bound: Some(group.bound()),
        proven: group.layout.proven,
        price,
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
            bound: None,
            proven: true,
            price: own.and_then(|own| own.price),
        });
        line.needed += part.count;
        line.spare = spares(line.needed);
    }
    by_name.into_values().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn thou(value: f64) -> ModelLength {
        ModelLength::thou(value)
    }

    /// Boards of 138 thou from a sheet 4 in wide: 28 without kerf, 26 with 15
    /// thou (arithmetic: 4.015 / 0.153 = 26.2).
    #[test]
    fn strips_share_sheets() {
        let boards = |count| vec![thou(138.0); count];
        assert_eq!(sheets_for(boards(28), thou(4000.0), thou(0.0)), 1);
        assert_eq!(sheets_for(boards(27), thou(4000.0), thou(15.0)), 2);
        assert_eq!(sheets_for(boards(26), thou(4000.0), thou(15.0)), 1);
        // Narrow strips fill up what wide ones leave.
        let mixed = [boards(25), vec![thou(34.0); 3]].concat();
        assert_eq!(sheets_for(mixed, thou(4000.0), thou(15.0)), 1);
    }
}
