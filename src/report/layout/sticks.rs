//! The sticks, stock by stock: each drawn as a bar, its pieces and what is left.

use super::{Act, Cell, Draft, Mark, Seen, Table, count, only, proven, rows, text};
use crate::cutting::parts::StickGroup;
use crate::cutting::sticks::{StickCut, StickPart};
use crate::finding::Subject;
use crate::quantity::{ModelLength, Unit};
use crate::report::column::bare;
use crate::report::table::RowKey;

/// Characters a stick is drawn with.
const BAR: usize = 40;

/// The stocks, with the sticks of each, for JSON.
pub(super) fn table(seen: Seen<'_>, groups: &[StickGroup]) -> Table {
    let draft = rows("sticks", "", groups)
        .col(only("stock"), |it| &it.stock)
        .col(only("count"), StickGroup::count);
    proven(draft, |it| it.amounts()[1], |it| it.layout.proven)
        .col(only("waste"), StickGroup::waste)
        .col(only("spare"), |it| it.spare)
        .col(only("bought_in"), |it| it.bought)
        .col(only("usable_in"), |it| it.usable)
        .within("cuts", Some, |group| cuts(seen, group).table().hidden())
        .table()
}

/// The sticks of a stock: a row for each way to cut one.
pub(super) fn cuts<'a>(seen: Seen<'_>, group: Option<&'a StickGroup>) -> Draft<Laid<'a>> {
    let stock = group.map_or("", |group| &group.stock);
    let all = group.into_iter().flat_map(|group| {
        group.layout.cuts.iter().enumerate().map(move |(at, cut)| (at, group, cut))
    });
    let is_done = |(_, group, cut): Laid<'_>| {
        let mut parts = cut.each.iter().flatten().map(|&part| &group.parts[part]);
        parts.all(|part| seen.job.done.contains_key(&part.label))
    };
    rows("cuts", stock, all)
        .named(&format!("{stock}: sticks"))
        .about(|_| Subject::Stock(stock.to_owned()))
        .keyed(|(at, ..)| RowKey::laid(stock, at, None))
        .can(|_| vec![Act::Cut])
        .marked(|it| if is_done(it) { Mark::Chosen } else { Mark::Plain })
        .col(count("times", "sticks"), |(.., it)| it.times)
        .col(text("cut", "cut").screen(), |(_, group, it)| bar(group, it))
        .col(text("pieces", "pieces"), |(_, group, it)| {
            let words = format!("{}{}", from_rack(group, it), pieces(group, it));
            Cell::said(words, labels(group, &it.pieces))
        })
        .col(only("from_rack"), |(_, group, it)| !group.is_new(it))
        .col(only("stick_in"), |(_, group, it)| group.usable_of(it))
        .col(only("each"), |(_, group, it)| {
            Cell::list(it.each.iter().map(|one| labels(group, one)))
        })
        .col(only("at_in"), |(_, group, it)| group.starts(it))
        .col(only("length_in"), |(_, group, it)| {
            Cell::list(of(group, &it.pieces).map(|part| part.length))
        })
        .col(bare("left_in", "left in", Unit::Inch, 2), |(.., it)| it.left)
}

pub(super) type Laid<'a> = (usize, &'a StickGroup, &'a StickCut);

fn of<'a>(group: &'a StickGroup, pieces: &'a [usize]) -> impl Iterator<Item = &'a StickPart> {
    pieces.iter().map(|&part| &group.parts[part])
}

fn labels(group: &StickGroup, pieces: &[usize]) -> Cell {
    Cell::list(of(group, pieces).map(|part| &part.label))
}

fn from_rack(group: &StickGroup, cut: &StickCut) -> String {
    if group.is_new(cut) {
        return String::new();
    }
    format!("of the {:.2} in offcut: ", group.usable_of(cut).in_inches())
}

/// A stick as a bar of its pieces: `|----|----|..`, the dots left over.
fn bar(group: &StickGroup, cut: &StickCut) -> String {
    let per = group.usable_of(cut) / BAR as f64;
    let mut text = String::with_capacity(BAR + 2);
    let mut at = ModelLength::ZERO;
    for &part in &cut.pieces {
        text.push('|');
        at += group.parts[part].length;
        let upto = (at / per).floor() as usize;
        while text.len() < upto.min(BAR) {
            text.push('-');
        }
    }
    text.push('|');
    while text.len() < BAR + 1 {
        text.push('.');
    }
    text
}

/// The pieces of a stick, those alike counted together; where the sticks of a
/// row carry different marks, all of them.
fn pieces(group: &StickGroup, cut: &StickCut) -> String {
    let near = ModelLength::thou(0.75);
    let mut runs: Vec<(ModelLength, usize, Vec<&str>)> = Vec::new();
    for (place, &part) in cut.pieces.iter().enumerate() {
        let length = group.parts[part].length;
        if !runs.last().is_some_and(|run| run.0.agrees(length, near)) {
            runs.push((length, 0, Vec::new()));
        }
        let Some(run) = runs.last_mut() else { continue };
        run.1 += 1;
        for one in &cut.each {
            let label = group.parts[one[place]].label.as_str();
            if !run.2.contains(&label) {
                run.2.push(label);
            }
        }
    }
    let run = |(length, count, labels): &(ModelLength, usize, Vec<&str>)| {
        format!("{count} {} {:.3}", labels.join(" or "), length.in_inches())
    };
    runs.iter().map(run).collect::<Vec<_>>().join(", ")
}
