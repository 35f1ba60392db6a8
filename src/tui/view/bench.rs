//! The bench drawn: fields, the answer, the rule or the protractor; or the
//! answer alone in large figures.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};

use super::book;
use super::large;
use super::over::field;
use super::palette::{Look, Role};
use super::rule;
use super::scrolled;
use super::text::{set, wrap};
use crate::bench::{Answer as SumAnswer, Bench as Answer, Look as Written, NEAR, Sum};
use crate::job::model::Units;
use crate::quantity::{Denominator, Notation, Unit, significant, spread};
use crate::stock::nearest::Miss;
use crate::tui::screen::bench::{Bench, Known, Reply, Sense, Slot, Trouble};
use crate::tui::state::State;

/// Draws the bench and says where the cursor stands.
pub fn draw(state: &State, area: Rect, buf: &mut Buffer) -> Option<Position> {
    let area = Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area };
    let answer = state.bench.answer(&state.catalog, known(state));
    if state.bench.large
        && let Ok(reply) = &answer
    {
        match reply {
            Reply::Length(answer, _) => large_figures(answer, state.look, area, buf),
            Reply::Sum(answer) => book::large(answer, state.look, area, buf),
            Reply::Contents(_) => {}
        }
        if !matches!(reply, Reply::Contents(_)) {
            return None;
        }
    }
    let cursor = fields(state, area, in_two(area), buf);
    let below = below(area);
    let long = Long { top: state.bench.top, look: state.look };
    match answer {
        Ok(Reply::Length(answer, findings)) => {
            let noticed: Vec<String> = findings.iter().map(crate::report::text::finding).collect();
            everything(&answer, &noticed, state, below, buf);
        }
        Ok(Reply::Sum(answer)) => long.sum(&answer, below, buf),
        Ok(Reply::Contents(sums)) => long.list(&sums, below, buf),
        Err(trouble) => self::trouble(&trouble, &long, below, buf),
    }
    cursor.filter(|_| state.bench.typing && state.over.is_empty())
}

/// Whether the fields stand in two columns.
fn in_two(area: Rect) -> bool {
    area.width >= 66
}

/// What is left under the fields.
fn below(area: Rect) -> Rect {
    let used = if in_two(area) { 4 } else { 7 };
    Rect { y: area.y + used, height: area.height.saturating_sub(used), ..area }
}

/// How far down the answer can be drawn from, in the room of the table.
#[must_use]
pub fn most(state: &State, area: Rect) -> u16 {
    let area = below(Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area });
    let look = state.look;
    match state.bench.answer(&state.catalog, known(state)) {
        Ok(Reply::Sum(answer)) => scrolled::most(area, book::LONGEST, &|area, buf| {
            book::draw(&answer, look, area, buf);
        }),
        Ok(Reply::Contents(sums)) => list_most(&sums, look, area),
        Err(trouble) => {
            let used = told(&trouble, area.width).len() as u16 + 1;
            let rest = Rect { height: area.height.saturating_sub(used), ..area };
            list_most(&trouble.offered, look, rest)
        }
        Ok(Reply::Length(..)) => 0,
    }
}

fn list_most(sums: &[&Sum], look: Look, area: Rect) -> u16 {
    scrolled::most(area, book::rows(sums, area), &|area, buf| {
        book::contents(sums, look, area, buf);
    })
}

/// What may be longer than its room, and from which line on it is drawn.
struct Long {
    top: u16,
    look: Look,
}

impl Long {
    fn sum(&self, answer: &SumAnswer, area: Rect, buf: &mut Buffer) {
        let paint = |area: Rect, buf: &mut Buffer| book::draw(answer, self.look, area, buf);
        scrolled::draw((self.top, book::LONGEST), true, self.look, area, buf, &paint);
    }

    fn list(&self, sums: &[&Sum], area: Rect, buf: &mut Buffer) {
        let paint = |area: Rect, buf: &mut Buffer| book::contents(sums, self.look, area, buf);
        let rows = book::rows(sums, area);
        scrolled::draw((self.top, rows), false, self.look, area, buf, &paint);
    }
}

/// What the job fills in.
fn known(state: &State) -> Known {
    let about = &state.document.job().about;
    let look = match about.units {
        Units::FeetInches => Written::inches(Denominator::SIXTY_FOURTHS),
        Units::Metric => Written::metric(Denominator::SIXTY_FOURTHS),
    };
    Known { year: about.year, look }
}

/// The fields: what is asked over the whole width, the others in two columns
/// under it, the print at the right, where there is room.
fn fields(state: &State, area: Rect, two: bool, buf: &mut Buffer) -> Option<Position> {
    let half = area.width / 2;
    let mut cursor = None;
    for (at, slot) in Slot::ALL.into_iter().enumerate() {
        let right = two && at >= 4;
        let row = if right { at - 3 } else { at } as u16;
        let x = if right { area.x + half } else { area.x };
        let width = if two && at > 0 { half } else { area.width };
        let label = 13;
        if row >= area.height {
            break;
        }
        let line = Rect { x, y: area.y + row, width, height: 1 };
        let found = one(state, slot, label, line, buf);
        cursor = found.or(cursor);
    }
    cursor
}

fn one(state: &State, slot: Slot, label: u16, line: Rect, buf: &mut Buffer) -> Option<Position> {
    let (bench, look) = (&state.bench, state.look);
    let here = bench.slot == slot;
    let compared = bench.sense == Sense::Compared;
    let used = match slot {
        Slot::Ask => !compared,
        Slot::Object | Slot::ObjectPrint | Slot::Print => compared,
        _ => true,
    };
    let role = if used { Role::Text } else { Role::Faint };
    let sign = if here { "\u{25b6}" } else { " " };
    set(buf, line, line.x, line.y, &format!("{sign}{}", slot.label()), look.style(role));
    let room = Rect { x: line.x + label + 1, width: line.width.saturating_sub(label + 2), ..line };
    if Bench::is_turned(slot) {
        let style = if here { look.marked() } else { look.style(role) };
        let text = format!("\u{2039} {} \u{203a}", turned(bench, slot, state));
        set(buf, room, room.x, room.y, &super::text::clip(&text, room.width as usize), style);
        return None;
    }
    let input = &bench.inputs[slot as usize];
    // A field that takes no letters shows its beginning.
    let at_start = input.clone().with_cursor(0);
    let at = field(if here { input } else { &at_start }, room, look, buf);
    at.filter(|_| here)
}

fn turned(bench: &Bench, slot: Slot, state: &State) -> String {
    match slot {
        Slot::Sense => bench.sense.words().to_owned(),
        _ => bench
            .known(&state.catalog)
            .map_or(String::new(), |known| format!("{} {}", known.size, known.name)),
    }
}

/// What is wrong, and what to write.
fn told(trouble: &Trouble, width: u16) -> Vec<(String, Role)> {
    let wide = usize::from(width);
    let first = format!("x {}: {}", trouble.slot.label(), trouble.message);
    let first = wrap(&first, wide).into_iter().map(|line| (line, Role::Refused));
    let hint = wrap(&trouble.hint, wide).into_iter().map(|line| (line, Role::Text));
    first.chain(hint).collect()
}

fn trouble(trouble: &Trouble, long: &Long, area: Rect, buf: &mut Buffer) {
    let look = long.look;
    let mut y = area.y + 1;
    for (line, role) in told(trouble, area.width) {
        if y < area.bottom() {
            set(buf, area, area.x, y, &line, look.style(role));
            y += 1;
        }
    }
    let rest = Rect { y, height: area.bottom().saturating_sub(y), ..area };
    long.list(&trouble.offered, rest, buf);
}

/// One line of the answer: a word, full size, model.
type Line = (String, String, String, Role);

fn lines(answer: &Answer, state: &State) -> Vec<Line> {
    let about = &state.document.job().about;
    let full = &answer.full;
    let model = &answer.model;
    let finest = Notation::Inches(Denominator::SIXTY_FOURTHS);
    let decimal = |unit, places| Notation::Decimal(unit, places);
    let scale = format!("1:{}", significant(answer.scale.ratio.value(), 5));
    let mut lines = vec![
        (answer.scale.name.clone(), "full size".to_owned(), format!("model {scale}"), Role::Faint),
        ("length".to_owned(), about.full_notation().show(full), finest.show(model), Role::Strong),
        (
            "decimal".to_owned(),
            decimal(Unit::Inch, 3).show(full),
            format!(
                "{}   {}",
                decimal(Unit::Inch, 4).show(model),
                decimal(Unit::Thou, 1).show(model)
            ),
            Role::Text,
        ),
        (
            "metric".to_owned(),
            decimal(Unit::Metre, 4).show(full),
            decimal(Unit::Millimetre, 2).show(model),
            Role::Text,
        ),
    ];
    if let (Some(full), Some(model)) = (answer.full_sigma, answer.model_sigma) {
        let line = (
            "\u{b1} 1 sigma".to_owned(),
            spread(full, Unit::Inch),
            spread(model, Unit::Thou),
            Role::Look,
        );
        lines.push(line);
    }
    if let Some(other) = &answer.other {
        let here = format!(
            "{}   {}",
            finest.show(&other.model),
            decimal(Unit::Millimetre, 2).show(&other.model)
        );
        let redraw = format!("redraw at {} %", significant(100.0 * other.redraw, 4));
        lines.push((format!("in {}", other.scale.name), redraw, here, Role::Text));
    }
    lines
}

fn everything(answer: &Answer, noticed: &[String], state: &State, area: Rect, buf: &mut Buffer) {
    let look = state.look;
    let mut y = area.y + u16::from(area.height >= 12);
    for (word, full, model, role) in lines(answer, state) {
        let x = area.x + 1;
        set(buf, area, x, y, &word, look.style(Role::Faint));
        set(buf, area, x + 13, y, &full, look.style(role));
        set(buf, area, x + 32, y, &model, look.style(role));
        y += 1;
    }
    // The rule only where the nearest stock still has a line under it.
    if area.bottom().saturating_sub(y) > rule::ROWS {
        let line = Rect { y, height: rule::ROWS, ..area };
        rule::draw(answer.model.length(), line, look, buf);
        y += rule::ROWS;
    }
    for line in near(answer).into_iter().chain(noticed.iter().cloned()) {
        if y >= area.bottom() {
            break;
        }
        set(buf, area, area.x + 1, y, &line, look.style(Role::Text));
        y += 1;
    }
}

/// The nearest stock and the nearest lumber, each with its error.
fn near(answer: &Answer) -> Vec<String> {
    let near = |miss: &Miss| miss.is_within(NEAR);
    let stock = answer.stock.iter().filter(|one| near(&one.miss)).take(3).map(|one| {
        let what = format!("{} {}", one.listed.material, one.listed.text);
        format!("stock   {what:<22} {}", miss(&one.miss))
    });
    let lumber = answer.lumber.iter().filter(|one| near(&one.miss)).take(4).map(|one| {
        let what = format!("{} in nominal, {}", one.side.nominal, one.era.name);
        format!("lumber  {what:<22} {}", miss(&one.miss))
    });
    let lines: Vec<String> = stock.chain(lumber).collect();
    if lines.is_empty() {
        return vec!["no stock and no nominal lumber is within 25 % of it".to_owned()];
    }
    lines
}

fn miss(miss: &Miss) -> String {
    format!(
        "{:+.1} thou, {:+.2} in full size, {:+.1} %",
        miss.model.in_thou(),
        miss.full.in_inches(),
        miss.percent
    )
}

/// Full size above, model below, as large as fits.
fn large_figures(answer: &Answer, look: Look, area: Rect, buf: &mut Buffer) {
    let model = Notation::Inches(Denominator::SIXTY_FOURTHS).show(&answer.model);
    let metric = Notation::HUNDREDTHS.show(&answer.model);
    let full = Notation::BUILDING.show(&answer.full);
    let rows = [(full, Role::Prototype), (model, Role::Built), (metric, Role::Built)];
    let each = (area.height / 3).max(1);
    for (n, (text, role)) in rows.iter().enumerate() {
        let line = Rect { y: area.y + n as u16 * each, height: each, ..area };
        if !large::draw(text, line, look.style(*role), buf) {
            set(buf, line, line.x, line.y, text, look.style(*role));
        }
    }
}
