//! The desk book as tables: one length and everything about it, and the answer of
//! every other sum.

use super::cell::Cell;
use super::column::{Column, bare, length, number, only, text, uncertainty};
use super::draft::{Draft, one, own, rows};
use super::table::{Mark, Row, RowKey, Table, View};
use crate::bench::{Answer, Bench, Compared, LumberNear, NEAR, Other, StockNear, Sum};

pub use crate::bench::Look;
use crate::catalog::scales::ratio_name;
use crate::finding::Outcome;
use crate::quantity::{
    Denominator, Length, Notation, Ratio, Rational, Scale, Space, Unit, significant, spread,
};
use crate::stock::nearest::Miss;

/// The bench as tables.
#[must_use]
pub fn view(answer: &Outcome<Bench>, look: Look) -> View {
    let bench = &answer.value;
    let mut lead = vec![lead(bench, look)];
    let stock_near: Vec<_> = bench.stock.iter().filter(|near| near.miss.is_within(NEAR)).collect();
    let lumber_near: Vec<_> =
        bench.lumber.iter().filter(|near| near.miss.is_within(NEAR)).collect();
    let first = stock_near.first().copied();
    let nearest = |it: &StockNear| match first {
        Some(first) if std::ptr::eq(first, it) => Mark::Chosen,
        _ => Mark::Plain,
    };
    if stock_near.is_empty() {
        lead.push("No listed stock is near: splice, laminate or cut from sheet.".to_owned());
    }
    if lumber_near.is_empty() {
        lead.push("No nominal lumber is near.".to_owned());
    }
    let mut tables = vec![
        own(()).col(only("sum"), |()| "length").table(),
        sizes(bench, look),
        full(bench, look),
        model(bench, look),
        scale(&bench.scale).table(),
        compared(bench.compared.as_ref()),
        other(bench.other.as_ref(), look),
        elsewhere(bench, look),
        stock(&bench.stock, look).table().hidden(),
        stock(stock_near.iter().copied(), look).marked(nearest).screen().table(),
        lumber(&bench.lumber, look).table().hidden(),
        lumber(lumber_near, look).screen().table(),
    ];
    tables.extend(rule(&sources(bench)));
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

/// Rule, source and worked line.
fn rule(all: &[String; 3]) -> [Table; 2] {
    let [rule, source, worked] = all;
    let lines = [("rule", rule), ("source", source), ("worked", worked)];
    let lines = lines.iter().filter(|(_, text)| !text.is_empty());
    [
        own(())
            .col(only("rule"), |()| rule)
            .col(only("source"), |()| source)
            .col(only("worked"), |()| worked)
            .table(),
        rows("from", "", lines)
            .screen()
            .col(text("what", ""), |(name, _)| *name)
            .col(text("text", "where it comes from"), |(_, text)| *text)
            .table(),
    ]
}

/// The answer of a sum as tables.
#[must_use]
pub fn sum_view(answer: &Answer) -> View {
    let mut tables = vec![
        own(answer)
            .col(only("sum"), |it| it.sum)
            .col(only("asked"), |it| &it.title)
            .col(only("lead"), |it| &it.lead)
            .col(only("near"), |it| &it.near)
            .table(),
        figures(answer),
        rows("lists", "", &answer.lists)
            .col(only("title"), |it| &it.title)
            .col(only("heads"), |it| &it.heads)
            .col(only("rows"), |it| Cell::data(&it.rows))
            .table(),
    ];
    for list in &answer.lists {
        let heads: Vec<&str> = list.heads.iter().map(String::as_str).collect();
        let mut table = Table::new(&list.title, &heads);
        list.rows.iter().for_each(|row| table.push(Row::plain(row.clone())));
        tables.push(table);
    }
    tables.extend(rule(&[answer.rule.clone(), answer.source.clone(), answer.worked.clone()]));
    View {
        title: answer.title.clone(),
        lead: answer.lead.clone(),
        tables,
        findings: answer.findings.clone(),
        next: answer.near.join("; "),
        ..View::default()
    }
}

/// The figures; columns with nothing in them are not shown.
fn figures(answer: &Answer) -> Table {
    let shown = |column: Column, shown: bool| if shown { column } else { column.hidden() };
    let all = &answer.figures;
    let decimal = all.iter().any(|it| !it.decimal.is_empty());
    let on_model = all.iter().any(|it| !it.on_model.is_empty());
    rows("figures", "Figures", all)
        .col(text("name", "figure"), |it| &it.name)
        .col(number("value", "is", 0), |it| Cell::said(&it.text, it.value))
        .col(shown(number("decimal", "in decimals", 0), decimal), |it| &it.decimal)
        .col(shown(text("on_model", "on the model").screen(), on_model), |it| {
            Cell::said(&it.on_model, it.model_mm)
        })
        .col(only("unit"), |it| it.unit)
        .col(only("text"), |it| &it.text)
        .col(only("model_mm"), |it| it.model_mm)
        .table()
}

/// The list of sums, with a line that asks for each.
#[must_use]
pub fn contents(sums: &[&Sum]) -> View {
    let table = rows("sums", "Sums", sums)
        .col(text("sum", "sum"), |it| it.key)
        .col(text("answers", "answers"), |it| it.about)
        .col(text("example", "asked for example"), |it| it.example)
        .note("any length by itself: 12 ft 6 at HO; any sum of lengths: 12 ft 6 - 2 * 7 1/2 in")
        .note("units: ft or ', in or \", thou, mm, cm, m, yd, rod, chain, ftUS (the survey foot)")
        .table();
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
    let fractions = Notation::FeetInches(Denominator::SIXTEENTHS);
    let decimal = |places| Notation::Decimal(Unit::Inch, places);
    let all = [
        ("feet, inches, fractions", fractions, Notation::FeetInches(look.parts)),
        ("decimal inches", decimal(3), decimal(4)),
        ("thou", Notation::THOU, Notation::Decimal(Unit::Thou, 1)),
        ("millimetres", Notation::Decimal(Unit::Millimetre, 0), Notation::HUNDREDTHS),
        ("metres", Notation::Decimal(Unit::Metre, 3), Notation::Decimal(Unit::Metre, 5)),
    ];
    rows("sizes", "The length", all)
        .screen()
        .col(text("in", "in"), |(name, ..)| name)
        .col(length("full", "full size", fractions), |(_, full, _)| {
            Cell::said(full.show(&bench.full), bench.full.length())
        })
        .col(length("model", "model", fractions), |(.., model)| {
            Cell::said(model.show(&bench.model), bench.model.length())
        })
        .note(format!("scale {}", scale_shown(&bench.scale)))
        .note("+ or - behind a fraction: a little more or less than that")
        .table()
}

fn full(bench: &Bench, look: Look) -> Table {
    one("prototype", Some(&bench.full))
        .col(only("m"), |it| it.amount(Unit::Metre))
        .col(only("ft"), |it| it.amount(Unit::Foot))
        .col(only("in"), |it| it.amount(Unit::Inch))
        .col(only("text"), |it| look.full.show(it))
        .col(only("sigma_in"), |_| bench.full_sigma)
        .table()
}

fn model(bench: &Bench, look: Look) -> Table {
    one("model", Some(&bench.model))
        .col(only("mm"), |it| it.amount(Unit::Millimetre))
        .col(only("in"), |it| it.amount(Unit::Inch))
        .col(only("thou"), |it| it.amount(Unit::Thou))
        .col(only("text"), |it| look.model.show(it))
        .col(only("fraction"), |it| Notation::Inches(look.parts).show(it))
        .col(only("sigma_thou"), |_| bench.model_sigma)
        .table()
}

fn scale(scale: &Scale) -> Draft<&Scale> {
    one("scale", Some(scale))
        .col(only("name"), |it| &it.name)
        .col(only("ratio"), |it| it.ratio.value())
        .col(only("exact"), |it| exact(it.ratio))
}

fn exact(ratio: Ratio) -> String {
    match ratio.denominator() {
        1 => ratio.numerator().to_string(),
        below => format!("{}/{below}", ratio.numerator()),
    }
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

/// What the comparison rests on: each reading, and all together.
fn compared(compared: Option<&Compared>) -> Table {
    one("comparison", compared)
        .col(only("in"), |it| it.size)
        .col(only("sigma_in"), |it| it.sigma)
        .col(only("correction"), |it| it.correction)
        .within("shares", Some, shares)
        .table()
}

fn shares(compared: Option<&Compared>) -> Table {
    rows("shares", "What the comparison is worth", compared.iter().flat_map(|it| &it.shares))
        .col(text("from", "from"), |it| it.from)
        .col(uncertainty("sigma_in", "± full size", Unit::Inch), |it| it.sigma)
        .notes(compared.map(|it| format!("together {}", spread(it.sigma, Unit::Inch))))
        .notes(
            compared
                .filter(|it| (it.correction - 1.0).abs() > 1e-9)
                .map(|it| format!("made {:.4} times as long for the set-back", it.correction)),
        )
        .table()
}

/// The length at another scale, for JSON.
fn other(other: Option<&Other>, look: Look) -> Table {
    one("other", other)
        .col(only("name"), |it| &it.scale.name)
        .col(only("ratio"), |it| it.scale.ratio.value())
        .col(only("mm"), |it| it.model.amount(Unit::Millimetre))
        .col(only("in"), |it| it.model.amount(Unit::Inch))
        .col(only("thou"), |it| it.model.amount(Unit::Thou))
        .col(only("text"), |it| look.model.show(&it.model))
        .col(only("redraw"), |it| it.redraw)
        .col(only("percent"), |it| 100.0 * it.redraw)
        .table()
}

/// Both scales beside each other.
fn elsewhere(bench: &Bench, look: Look) -> Table {
    let other = bench.other.as_ref();
    let both = other.map(|other| [(&bench.scale, &bench.model), (&other.scale, &other.model)]);
    rows("elsewhere", "At another scale", both.into_iter().flatten())
        .screen()
        .col(text("scale", "scale"), |(scale, _)| scale_shown(scale))
        .col(length("model", "model", look.model), |(_, size)| {
            Cell::said(look.model.show(size), size.length())
        })
        .col(bare("mm", "mm", Unit::Millimetre, 2).tail(" mm"), |(_, size)| size.length())
        .col(bare("thou", "thou", Unit::Thou, 1).tail(" thou"), |(_, size)| size.length())
        .notes(other.map(|other| {
            format!(
                "redraw from {} to {} by {}; copy at {} percent",
                bench.scale,
                other.scale,
                significant(other.redraw, 6),
                significant(other.redraw * 100.0, 6)
            )
        }))
        .table()
}

/// The nearest of each rack, the nearest of all first.
fn stock<'a>(all: impl IntoIterator<Item = &'a StockNear>, look: Look) -> Draft<&'a StockNear> {
    let draft = rows("stock", "Nearest stock", all)
        .col(text("size", "size"), |it| &it.listed.text)
        .col(text("what", "stock").screen(), |it| {
            format!("{} {:?}", it.listed.material, it.listed.form).to_lowercase()
        })
        .col(only("material"), |it| &it.listed.material)
        .col(only("form"), |it| Cell::data(it.listed.form))
        .col(only("mm"), |it| it.listed.size.length().in_millimetres());
    off(draft, look, "error_prototype_in", |it| &it.miss)
}

/// The nearest of each era.
fn lumber<'a>(all: impl IntoIterator<Item = &'a LumberNear>, look: Look) -> Draft<&'a LumberNear> {
    let parts = Notation::Inches(Denominator::SIXTY_FOURTHS);
    let draft = rows("lumber", "Nearest nominal lumber", all)
        .keyed(|it| RowKey::named(&it.era.key))
        .col(text("nominal_in", "nominal"), |it| {
            Cell::said(format!("{} in", it.side.nominal), it.side.nominal.value())
        })
        .col(text("actual_in", "is"), |it| {
            Cell::said(parts.show(&it.side.actual), it.side.actual.in_inches().value())
        })
        .col(text("era", "era"), |it| &it.era.key)
        .col(only("class"), |it| Cell::data(it.side.class))
        .col(only("axis"), |it| Cell::data(it.side.axis));
    off(draft, look, "error_in", |it| &it.miss)
}

/// What taking a size costs.
fn off<'a, T: Copy>(
    draft: Draft<T>,
    look: Look,
    full: &str,
    miss: impl Fn(T) -> &'a Miss,
) -> Draft<T> {
    let ((fine, fine_places), (coarse, coarse_places)) = (look.fine(), look.coarse());
    let column = |id: &str, head: &str| number(id, head, 0);
    draft
        .col(column("error_thou", &format!("off, {fine}")), |it| {
            let off = miss(it).model;
            Cell::said(signed(off.in_inches() / fine.in_inches(), fine_places), off)
        })
        .col(column(full, &format!("full size, {coarse}")), |it| {
            let off = miss(it).full;
            Cell::said(signed(off.in_inches() / coarse.in_inches(), coarse_places), off)
        })
        .col(column("error_percent", "percent"), |it| {
            Cell::said(signed(miss(it).percent, 1), miss(it).percent)
        })
        .col(only("near"), |it| miss(it).is_within(NEAR))
}

/// A figure with its sign; what rounds to nothing has none.
fn signed(amount: f64, places: usize) -> String {
    let least = 0.5 * 10_f64.powi(-i32::try_from(places).unwrap_or(0));
    match amount.abs() < least {
        true => format!("{:.places$}", 0.0),
        false => format!("{amount:+.places$}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Ask, Given};
    use crate::catalog::Catalog;
    use crate::quantity::{Reading, parse_stated};
    use crate::report::json;

    fn answer(text: &str, scale: &str) -> Outcome<Bench> {
        let catalog = Catalog::built_in().unwrap();
        let given = Given::Full(parse_stated(text, &Reading::default()).unwrap());
        let ask = Ask { given, scale: catalog.scales.find(scale).unwrap(), to: None };
        crate::bench::answer(&ask, &catalog).unwrap()
    }

    #[test]
    fn the_json_keys_stay() {
        let json = json::view(&view(&answer("12 ft", "HO"), Look::default()));
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
        assert_eq!(far.named("sizes").unwrap().notes[0], "scale HO, 1:87.0857 (3048/35)");
        let near = view(&answer("3 1/2 in", "1:48"), Look::metric(Denominator::SIXTEENTHS));
        assert_eq!(near.title, "0.089 m at 1:48");
        assert!(near.shown().iter().any(|table| table.title == "Nearest stock"));
    }
}
