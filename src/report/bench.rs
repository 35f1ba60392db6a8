//! The desk book as tables and as JSON: one length and everything about it, and
//! the answer of every other sum.
//!
//! The keys of the JSON, which stay as they are:
//!
//! | key | what it holds |
//! |---|---|
//! | `prototype` | `m`, `ft`, `in`, `text`, `sigma_in` (null where none is known) |
//! | `model` | `mm`, `in`, `thou`, `text`, `fraction`, `sigma_thou` |
//! | `scale` | `name`, `ratio` (a number), `exact` (`3048/35`) |
//! | `other` | null, or `name`, `ratio`, `mm`, `in`, `thou`, `text`, `redraw`, `percent` |
//! | `stock[]` | nearest of each rack, nearest of all first: `material`, `form`, `size`, `mm`, `error_thou`, `error_prototype_in`, `error_percent`, `near` |
//! | `lumber[]` | nearest of each era: `era`, `nominal_in`, `actual_in`, `class`, `axis`, `error_in`, `error_thou`, `error_percent`, `near` |
//! | `comparison` | null, or `in`, `sigma_in`, `correction`, `shares[]` (`from`, `sigma_in`) |
//! | `findings[]` | `subject`, `severity`, `message`, `hint` |

//!
//! Another sum: `sum`, `asked`, `lead[]`, `figures[]` (`name`, `value`, `unit`,
//! `text`, `decimal`, `model_mm`), `lists[]` (`title`, `heads[]`, `rows[][]`),
//! `rule`, `source`, `worked`, `near[]`, `findings[]`.

use serde_json::{Value, json};

use super::table::{Mark, Row, Table, View};
use crate::bench::{Answer, Bench, Compared, LumberNear, NEAR, Other, Size, StockNear, Sum};

pub use crate::bench::Look;
use crate::catalog::scales::ratio_name;
use crate::finding::Outcome;
use crate::quantity::{
    Denominator, Length, Model, Notation, Prototype, Ratio, Rational, Scale, Space, Unit,
    significant, spread,
};

/// The bench as tables.
#[must_use]
pub fn view(answer: &Outcome<Bench>, look: Look) -> View {
    let bench = &answer.value;
    let mut tables = vec![sizes(bench, look)];
    tables.extend(bench.compared.as_ref().map(compared));
    tables.extend(bench.other.as_ref().map(|other| elsewhere(bench, other, look)));
    let mut lead = vec![lead(bench, look)];
    let near = [
        (stock(&bench.stock, look), "No listed stock is near: splice, laminate or cut from sheet."),
        (lumber(&bench.lumber, look), "No nominal lumber is near."),
    ];
    for (table, otherwise) in near {
        if table.rows.is_empty() {
            lead.push(otherwise.to_owned());
        } else {
            tables.push(table);
        }
    }
    tables.push(rule(&sources(bench)));
    View {
        title: format!("{} at {}", look.full.show(&bench.full), bench.scale),
        lead,
        tables,
        findings: answer.findings.clone(),
        ..View::default()
    }
}

/// Rule, source and a worked line of a length.
fn sources(bench: &Bench) -> [String; 3] {
    let ratio = Rational::from(bench.scale.ratio);
    let inches = significant(bench.full.amount(Unit::Inch), 7);
    let model = significant(bench.model.amount(Unit::Inch), 7);
    [
        "full size over the ratio of the scale".to_owned(),
        "the inch is 25.4 mm (NIST Handbook 44); the ratio as the list of scales has it".to_owned(),
        format!("{inches} in / {ratio} = {model} in"),
    ]
}

/// Rule, source and worked line as a table.
fn rule([rule, source, worked]: &[String; 3]) -> Table {
    let mut table = Table::new("", &["", "where it comes from"]);
    for (name, text) in [("rule", rule), ("source", source), ("worked", worked)] {
        if !text.is_empty() {
            table.push(Row::plain(vec![name.to_owned(), text.clone()]));
        }
    }
    table
}

/// The answer of a sum as tables.
#[must_use]
pub fn sum_view(answer: &Answer) -> View {
    let mut tables = vec![figures(answer)];
    for list in &answer.lists {
        let heads: Vec<&str> = list.heads.iter().map(String::as_str).collect();
        let mut table = Table::new(&list.title, &heads);
        list.rows.iter().for_each(|row| table.push(Row::plain(row.clone())));
        tables.push(table);
    }
    tables.push(rule(&[answer.rule.clone(), answer.source.clone(), answer.worked.clone()]));
    View {
        title: answer.title.clone(),
        lead: answer.lead.clone(),
        tables,
        findings: answer.findings.clone(),
        next: answer.near.join("; "),
        ..View::default()
    }
}

/// The figures, with the columns that have something in them.
fn figures(answer: &Answer) -> Table {
    let decimal = answer.figures.iter().any(|figure| !figure.decimal.is_empty());
    let model = answer.figures.iter().any(|figure| !figure.on_model.is_empty());
    let mut heads = vec!["figure", ">is"];
    heads.extend(decimal.then_some(">in decimals"));
    heads.extend(model.then_some("on the model"));
    let mut table = Table::new("Figures", &heads);
    for figure in &answer.figures {
        let mut cells = vec![figure.name.clone(), figure.text.clone()];
        cells.extend(decimal.then(|| figure.decimal.clone()));
        cells.extend(model.then(|| figure.on_model.clone()));
        table.push(Row::plain(cells));
    }
    table
}

/// The answer of a sum as JSON; the keys are in the table above.
#[must_use]
pub fn sum_json(answer: &Answer) -> Value {
    let figures = answer.figures.iter().map(|figure| {
        json!({
            "name": figure.name,
            "value": figure.value,
            "unit": figure.unit,
            "text": figure.text,
            "decimal": figure.decimal,
            "model_mm": figure.model_mm,
        })
    });
    let lists = answer
        .lists
        .iter()
        .map(|list| json!({ "title": list.title, "heads": list.heads, "rows": list.rows }));
    json!({
        "sum": answer.sum,
        "asked": answer.title,
        "lead": answer.lead,
        "figures": figures.collect::<Vec<_>>(),
        "lists": lists.collect::<Vec<_>>(),
        "rule": answer.rule,
        "source": answer.source,
        "worked": answer.worked,
        "near": answer.near,
        "findings": answer.findings,
    })
}

/// The list of sums, with a line that asks for each.
#[must_use]
pub fn contents(sums: &[&Sum]) -> View {
    let mut table = Table::new("Sums", &["sum", "answers", "asked for example"]);
    for sum in sums {
        let cells = [sum.key, sum.about, sum.example].map(str::to_owned);
        table.push(Row::plain(cells.into()));
    }
    table.notes.push(
        "any length by itself: 12 ft 6 at HO; any sum of lengths: 12 ft 6 - 2 * 7 1/2 in"
            .to_owned(),
    );
    table.notes.push(
        "units: ft or ', in or \", thou, mm, cm, m, yd, rod, chain, ftUS (the survey foot)"
            .to_owned(),
    );
    View {
        title: "The desk book".to_owned(),
        lead: vec![
            "One line asks; words decide which sum, in any order. Each shows its rule and source."
                .to_owned(),
        ],
        tables: vec![table],
        ..View::default()
    }
}

/// `12'-0" is 1 21/32"- on the model: 42.00 mm, 1654 thou.`
fn lead(bench: &Bench, look: Look) -> String {
    let full = with_spread(look.full.show(&bench.full), bench.full_sigma, look.coarse().0);
    let model = with_spread(look.model.show(&bench.model), bench.model_sigma, look.fine().0);
    let also = if look.is_metric() {
        Notation::Inches(look.parts).show(&bench.model)
    } else {
        Notation::HUNDREDTHS.show(&bench.model)
    };
    format!("{full} is {model} on the model: {also}, {}.", Notation::THOU.show(&bench.model))
}

fn with_spread<S: Space>(text: String, sigma: Option<Length<S>>, unit: Unit) -> String {
    match sigma {
        Some(sigma) => format!("{text} {}", spread(sigma, unit)),
        None => text,
    }
}

fn sizes(bench: &Bench, look: Look) -> Table {
    let mut table = Table::new("The length", &["in", ">full size", ">model"]);
    let fractions = Notation::FeetInches(Denominator::SIXTEENTHS);
    let decimal = |places| Notation::Decimal(Unit::Inch, places);
    for (name, full, model) in [
        ("feet, inches, fractions", fractions, Notation::FeetInches(look.parts)),
        ("decimal inches", decimal(3), decimal(4)),
        ("thou", Notation::THOU, Notation::Decimal(Unit::Thou, 1)),
        ("millimetres", Notation::Decimal(Unit::Millimetre, 0), Notation::HUNDREDTHS),
        ("metres", Notation::Decimal(Unit::Metre, 3), Notation::Decimal(Unit::Metre, 5)),
    ] {
        let cells = vec![name.to_owned(), full.show(&bench.full), model.show(&bench.model)];
        table.push(Row::plain(cells));
    }
    table.notes.push(format!("scale {}", scale_shown(&bench.scale)));
    table.notes.push("+ or - behind a fraction: a little more or less than that".to_owned());
    table
}

/// `HO, 1:87.0857 (3048/35)`; the ratio once where it is the name.
fn scale_shown(scale: &Scale) -> String {
    let ratio = ratio_name(scale.ratio);
    if ratio == scale.name {
        return ratio;
    }
    match ratio.strip_prefix("1:").filter(|exact| exact.contains('/')) {
        Some(exact) => {
            format!("{scale}, 1:{} ({exact})", significant(scale.ratio.value(), 6))
        }
        None => format!("{scale}, {ratio}"),
    }
}

fn compared(compared: &Compared) -> Table {
    let mut table = Table::new("What the comparison is worth", &["from", ">± full size"]);
    for share in &compared.shares {
        table.push(Row::plain(vec![share.from.to_owned(), spread(share.sigma, Unit::Inch)]));
    }
    table.push(Row::plain(vec!["together".to_owned(), spread(compared.sigma, Unit::Inch)]));
    if (compared.correction - 1.0).abs() > 1e-9 {
        table.notes.push(format!("made {:.4} times as long for the set-back", compared.correction));
    }
    table
}

fn elsewhere(bench: &Bench, other: &Other, look: Look) -> Table {
    let mut table = Table::new("At another scale", &["scale", ">model", ">mm", ">thou"]);
    for (scale, size) in [(&bench.scale, &bench.model), (&other.scale, &other.model)] {
        table.push(Row::plain(vec![
            scale_shown(scale),
            look.model.show(size),
            Notation::HUNDREDTHS.show(size),
            Notation::Decimal(Unit::Thou, 1).show(size),
        ]));
    }
    table.notes.push(format!(
        "redraw from {} to {} by {}; copy at {} percent",
        bench.scale,
        other.scale,
        significant(other.redraw, 6),
        significant(other.redraw * 100.0, 6)
    ));
    table
}

fn stock(near: &[StockNear], look: Look) -> Table {
    let ((fine, _), (coarse, _)) = (look.fine(), look.coarse());
    let (fine, coarse) = (format!(">off, {fine}"), format!(">full size, {coarse}"));
    let heads = ["size", "stock", &fine, &coarse, ">percent"];
    let mut table = Table::new("Nearest stock", &heads);
    for near in near.iter().filter(|near| near.miss.is_within(NEAR)) {
        let what = format!("{} {:?}", near.listed.material, near.listed.form).to_lowercase();
        let mut cells = vec![near.listed.text.clone(), what];
        cells.extend(off(near.miss.model, near.miss.full, near.miss.percent, look));
        table.push(Row::plain(cells).marked(mark(table.rows.is_empty())));
    }
    table
}

fn lumber(near: &[LumberNear], look: Look) -> Table {
    let ((fine, _), (coarse, _)) = (look.fine(), look.coarse());
    let (fine, coarse) = (format!(">off, {fine}"), format!(">full size, {coarse}"));
    let heads = ["nominal", "is", "era", &fine, &coarse, ">percent"];
    let mut table = Table::new("Nearest nominal lumber", &heads);
    for near in near.iter().filter(|near| near.miss.is_within(NEAR)) {
        let mut cells = vec![
            format!("{} in", near.side.nominal),
            Notation::Inches(Denominator::SIXTY_FOURTHS).show(&near.side.actual),
            near.era.key.clone(),
        ];
        cells.extend(off(near.miss.model, near.miss.full, near.miss.percent, look));
        table.push(Row::plain(cells));
    }
    table
}

fn mark(first: bool) -> Mark {
    if first { Mark::Chosen } else { Mark::Plain }
}

fn off(model: Length<Model>, full: Length<Prototype>, percent: f64, look: Look) -> [String; 3] {
    let signed = |inches: f64, (unit, places): (Unit, usize)| {
        let amount = inches / unit.in_inches();
        // What rounds to nothing has no sign.
        let least = 0.5 * 10_f64.powi(-i32::try_from(places).unwrap_or(0));
        let amount = if amount.abs() < least { 0.0 } else { amount };
        if amount.abs() > 0.0 {
            format!("{amount:+.places$}")
        } else {
            format!("{amount:.places$}")
        }
    };
    [
        signed(model.in_inches(), look.fine()),
        signed(full.in_inches(), look.coarse()),
        signed(percent, (Unit::Inch, 1)),
    ]
}

/// The bench as JSON; the keys are in the table above.
#[must_use]
pub fn json(answer: &Outcome<Bench>, look: Look) -> Value {
    let bench = &answer.value;
    let [rule, source, worked] = sources(bench);
    json!({
        "sum": "length",
        "rule": rule,
        "source": source,
        "worked": worked,
        "prototype": {
            "m": bench.full.amount(Unit::Metre),
            "ft": bench.full.amount(Unit::Foot),
            "in": bench.full.amount(Unit::Inch),
            "text": look.full.show(&bench.full),
            "sigma_in": bench.full_sigma.map(Length::in_inches),
        },
        "model": {
            "mm": bench.model.amount(Unit::Millimetre),
            "in": bench.model.amount(Unit::Inch),
            "thou": bench.model.amount(Unit::Thou),
            "text": look.model.show(&bench.model),
            "fraction": Notation::Inches(look.parts).show(&bench.model),
            "sigma_thou": bench.model_sigma.map(Length::in_thou),
        },
        "scale": {
            "name": bench.scale.name,
            "ratio": bench.scale.ratio.value(),
            "exact": exact(bench.scale.ratio),
        },
        "other": bench.other.as_ref().map(|other| other_json(other, look)),
        "stock": bench.stock.iter().map(stock_json).collect::<Vec<_>>(),
        "lumber": bench.lumber.iter().map(lumber_json).collect::<Vec<_>>(),
        "comparison": bench.compared.as_ref().map(compared_json),
        "findings": answer.findings,
    })
}

fn exact(ratio: Ratio) -> String {
    match ratio.denominator() {
        1 => ratio.numerator().to_string(),
        below => format!("{}/{below}", ratio.numerator()),
    }
}

fn size_json(size: &Size<Model>) -> (f64, f64, f64) {
    (size.amount(Unit::Millimetre), size.amount(Unit::Inch), size.amount(Unit::Thou))
}

fn other_json(other: &Other, look: Look) -> Value {
    let (mm, inches, thou) = size_json(&other.model);
    json!({
        "name": other.scale.name,
        "ratio": other.scale.ratio.value(),
        "mm": mm,
        "in": inches,
        "thou": thou,
        "text": look.model.show(&other.model),
        "redraw": other.redraw,
        "percent": 100.0 * other.redraw,
    })
}

fn stock_json(near: &StockNear) -> Value {
    json!({
        "material": near.listed.material,
        "form": near.listed.form,
        "size": near.listed.text,
        "mm": near.listed.size.length().in_millimetres(),
        "error_thou": near.miss.model.in_thou(),
        "error_prototype_in": near.miss.full.in_inches(),
        "error_percent": near.miss.percent,
        "near": near.miss.is_within(NEAR),
    })
}

fn lumber_json(near: &LumberNear) -> Value {
    json!({
        "era": near.era.key,
        "nominal_in": near.side.nominal.value(),
        "actual_in": near.side.actual.in_inches().value(),
        "class": near.side.class,
        "axis": near.side.axis,
        "error_in": near.miss.full.in_inches(),
        "error_thou": near.miss.model.in_thou(),
        "error_percent": near.miss.percent,
        "near": near.miss.is_within(NEAR),
    })
}

fn compared_json(compared: &Compared) -> Value {
    let shares = compared
        .shares
        .iter()
        .map(|share| json!({ "from": share.from, "sigma_in": share.sigma.in_inches() }));
    json!({
        "in": compared.size.in_inches(),
        "sigma_in": compared.sigma.in_inches(),
        "correction": compared.correction,
        "shares": shares.collect::<Vec<_>>(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Ask, Given};
    use crate::catalog::Catalog;
    use crate::quantity::{Reading, parse_stated};

    fn answer(text: &str, scale: &str) -> Outcome<Bench> {
        let catalog = Catalog::built_in().unwrap();
        let given = Given::Full(parse_stated(text, &Reading::default()).unwrap());
        let ask = Ask { given, scale: catalog.scales.find(scale).unwrap(), to: None };
        crate::bench::answer(&ask, &catalog).unwrap()
    }

    #[test]
    fn the_json_keys_stay() {
        let json = json(&answer("12 ft", "HO"), Look::default());
        assert_eq!(json["prototype"]["m"], 3.6576);
        assert_eq!(json["model"]["mm"], 42.0);
        assert_eq!(json["model"]["text"], "1 21/32\"-");
        assert_eq!(json["scale"]["name"], "HO");
        assert_eq!(json["scale"]["exact"], "3048/35");
        assert!((json["scale"]["ratio"].as_f64().unwrap() - 87.085_714_285_7).abs() < 1e-9);
        assert!((json["model"]["in"].as_f64().unwrap() - 42.0 / 25.4).abs() < 1e-12);
        assert!(!json["stock"].as_array().unwrap().is_empty());
        assert_eq!(json["lumber"].as_array().unwrap().len(), 5);
    }

    #[test]
    fn the_view_says_when_nothing_is_near() {
        let far = view(&answer("12 ft", "HO"), Look::default());
        assert!(far.lead.iter().any(|line| line.contains("No listed stock")));
        assert_eq!(far.tables[0].notes[0], "scale HO, 1:87.0857 (3048/35)");
        let near = view(&answer("3 1/2 in", "1:48"), Look::metric(Denominator::SIXTEENTHS));
        assert_eq!(near.title, "0.089 m at 1:48");
        assert!(near.tables.iter().any(|table| table.title == "Nearest stock"));
    }
}
