//! The stock as tables: nearest sizes, the error of each, what adds up.

use super::Seen;
use super::cell::Cell;
use super::column::{bare, count, number, only, text};
use super::draft::{Draft, rows};
use super::table::{Mark, Table, View};
use crate::finding::Subject;
use crate::quantity::{ModelLength, Scale, Unit};
use crate::stock::{Accumulated, Choice, Choices, Match, Verdict, Way, accumulate};
use crate::takeoff::Run;

/// The view.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: stock", seen.job.about.name);
    let (stock, scale) = match (&seen.plan.stock, &seen.plan.scale) {
        (Ok(stock), Ok(scale)) => (stock, scale),
        (Err(stop), _) | (_, Err(stop)) => return View::stopped(title, stop),
    };
    let runs = seen.plan.takeoff.as_ref().map_or(&[][..], |takeoff| &takeoff.runs);
    let summed: Vec<Summed> = runs.iter().map(|run| Summed::of(run, stock, scale)).collect();
    View {
        title,
        lead: vec![
            "Nearest stock for each section: error on the model, at full size, in percent."
                .to_owned(),
        ],
        tables: vec![
            taken(&stock.choices, scale),
            adds_up(&summed),
            others(&stock.choices, scale),
            sums(&summed),
        ],
        next: "takeoff: the parts of the building".to_owned(),
        ..View::default()
    }
}

fn taken(choices: &[Choice], scale: &Scale) -> Table {
    let wanted = |it: &Choice| {
        let model = &it.model;
        let words = format!("{:.1} x {:.1}", model.thickness.in_thou(), model.width.in_thou());
        Cell::said(words, model.thickness)
    };
    let draft = rows("choices", "Taken", choices)
        .about(|it| Subject::Member(it.wanted.key.clone()))
        .marked(|it| match it.taken() {
            Some(made) => mark(made.verdict, it.picked.is_some()),
            None => Mark::Refused,
        })
        .col(text("key", "for"), |it| &it.wanted.key)
        .col(text("nominal", "nominal"), |it| it.wanted.nominal.as_ref())
        .col(number("wanted", "wanted thou", 1).screen(), wanted);
    figures(draft, scale, Choice::taken)
        .col(only("what"), |it| &it.wanted.what)
        .col(only("thickness_full_in"), |it| it.wanted.full.thickness)
        .col(only("width_full_in"), |it| it.wanted.full.width)
        .col(only("thickness_in"), |it| it.model.thickness)
        .col(only("width_in"), |it| it.model.width)
        .col(only("stock"), |it| it.stock_name())
        .col(only("picked"), |it| it.picked.as_ref())
        .within("ways", |it| &it.ways[..], |made| ways(made, scale))
        .table()
}

fn ways(ways: &[Match], scale: &Scale) -> Table {
    rows("ways", "", ways)
        .col(only("stock"), |it| &it.stock)
        .col(only("material"), |it| &it.material)
        .col(only("way"), |it| Cell::data(it.way))
        .col(only("thickness_error_thou"), |it| it.thickness_error)
        .col(only("width_error_thou"), |it| it.width_error)
        .col(only("error_full_in"), |it| it.worst_full(scale))
        .col(only("percent"), |it| it.percent())
        .col(only("verdict"), |it| Cell::data(it.verdict))
        .col(only("seen"), |it| it.seen)
        .col(only("under_survey"), |it| it.under_survey)
        .table()
}

fn mark(verdict: Verdict, picked: bool) -> Mark {
    match (verdict, picked) {
        (_, true) => Mark::Chosen,
        (Verdict::Take, _) => Mark::Plain,
        _ => Mark::Look,
    }
}

/// The columns of a way to make a section; nothing where none will do.
fn figures<'a, T: Copy>(
    draft: Draft<T>,
    scale: &Scale,
    made: impl Fn(T) -> Option<&'a Match>,
) -> Draft<T> {
    let out = |it: &Match| {
        let (thick, wide) = (it.thickness_error, it.width_error);
        Cell::said(format!("{:+.1} x {:+.1}", thick.in_thou(), wide.in_thou()), it.worst())
    };
    draft
        .col(text("made", "stock").screen().blank("none will do"), |it| {
            made(it).map(|it| format!("{}{}", it.stock, way(it.way)))
        })
        .col(number("out", "out thou", 1).screen(), |it| made(it).map(out))
        .col(bare("out_full", "full size", Unit::Inch, 2).signed().tail(" in").screen(), |it| {
            made(it).map(|it| it.worst_full(scale))
        })
        .col(number("share", "%", 1).signed().screen(), |it| made(it).map(Match::percent))
        .col(text("verdict", "verdict").screen().blank("make it"), |it| made(it).map(says))
}

fn way(way: Way) -> &'static str {
    match way {
        Way::Single => "",
        Way::Ripped => ", ripped",
        Way::TwoLayers => ", two layers",
        Way::ThreeLayers => ", three layers",
    }
}

fn says(made: &Match) -> String {
    let verdict = match made.verdict {
        Verdict::Take => "take it",
        Verdict::Warn => "will do",
        Verdict::Refuse => "too far out",
    };
    let seen = if made.seen { "" } else { ", not seen" };
    let known = if made.under_survey == Some(true) { ", under the survey's ±" } else { "" };
    format!("{verdict}{seen}{known}")
}

/// A row of pieces alike, and what the error of each comes to.
struct Summed<'a> {
    run: &'a Run,
    all: Accumulated,
    unit: ModelLength,
    pitch: ModelLength,
}

impl<'a> Summed<'a> {
    fn of(run: &'a Run, stock: &Choices, scale: &Scale) -> Self {
        let made = stock.of(&run.section).and_then(|choice| choice.taken());
        // Courses that lap go by marks, whatever the width of the strip.
        let each = made.filter(|_| run.by_width).map_or(ModelLength::ZERO, |m| m.width_error);
        let unit = scale.reduce(run.nominal);
        let all = accumulate(run.count, each, unit, scale);
        Self { run, all, unit, pitch: scale.reduce(run.used) }
    }
}

/// What the error of each comes to, and the pitch that makes a row come out even.
fn adds_up(summed: &[Summed<'_>]) -> Table {
    rows("adds_up", "What adds up", summed.iter().filter(|it| it.run.count > 1))
        .screen()
        .about(|it| Subject::Member(it.run.section.clone()))
        .marked(|it| if it.all.within_half { Mark::Plain } else { Mark::Look })
        .col(text("section", "row"), |it| &it.run.section)
        .col(text("face", "where"), |it| &it.run.face)
        .col(count("count", "pieces"), |it| it.run.count)
        .col(bare("each", "each thou", Unit::Thou, 1).signed(), |it| it.all.each)
        .col(bare("sum", "sum in", Unit::Inch, 3).signed(), |it| it.all.sum)
        .col(bare("sum_full", "full size", Unit::Inch, 1).signed().tail(" in"), |it| {
            it.all.sum_full
        })
        .col(text("within_half", "sum"), |it| match it.all.within_half {
            true => "under half a piece",
            false => "share it out",
        })
        .col(bare("pitch", "pitch thou", Unit::Thou, 2), |it| it.pitch)
        .col(bare("was", "was", Unit::Thou, 2), |it| it.unit)
        .note(
            "Pitch: what each takes so that the row comes out even. Mark it from one end with running marks.",
        )
        .table()
}

/// The same of every row, for JSON.
fn sums(summed: &[Summed<'_>]) -> Table {
    rows("rows", "", summed)
        .col(only("section"), |it| &it.run.section)
        .col(only("face"), |it| &it.run.face)
        .col(only("count"), |it| it.run.count)
        .col(only("each_thou"), |it| it.all.each)
        .col(only("sum_in"), |it| it.all.sum)
        .col(only("within_half"), |it| it.all.within_half)
        .col(only("nominal_full_in"), |it| it.run.nominal)
        .col(only("used_full_in"), |it| it.run.used)
        .table()
}

/// Two ways not taken, for each section.
fn others(choices: &[Choice], scale: &Scale) -> Table {
    let rest = choices.iter().flat_map(|choice| {
        let others = choice.ways.iter().enumerate().filter(|(at, _)| Some(*at) != choice.taken);
        others.take(2).map(move |(_, made)| (choice, made))
    });
    let draft = rows("others", "Other ways", rest)
        .screen()
        .about(|(_, made)| Subject::Stock(made.stock.clone()))
        .col(text("key", "for"), |(choice, _)| &choice.wanted.key);
    figures(draft, scale, |(_, made)| Some(made)).table()
}
