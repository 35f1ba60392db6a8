//! The answer of a sum of the desk book: its sentences, its figures, a rule or a
//! protractor, where it comes from; and the list of the sums.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::large as blocks;
use super::palette::{Look, Role};
use super::text::{clip, set, wrap};
use super::{protractor, rule};
use crate::bench::{Answer, Drawn, Figure, Sum};

/// Lines a sum draws one under the other.
struct Down<'b> {
    area: Rect,
    y: u16,
    look: Look,
    buf: &'b mut Buffer,
}

impl Down<'_> {
    fn left(&self) -> u16 {
        self.area.bottom().saturating_sub(self.y)
    }

    fn line(&mut self, x: u16, text: &str, role: Role) {
        if self.left() > 0 {
            let room = usize::from(self.area.width.saturating_sub(x));
            set(
                self.buf,
                self.area,
                self.area.x + x,
                self.y,
                &clip(text, room),
                self.look.style(role),
            );
        }
    }

    fn next(&mut self) {
        self.y += 1;
    }

    fn words(&mut self, word: &str, text: &str, role: Role) {
        let indent = if word.is_empty() { 1 } else { 9 };
        let room = usize::from(self.area.width.saturating_sub(indent));
        for (at, line) in wrap(text, room).iter().enumerate() {
            if at == 0 && !word.is_empty() {
                self.line(1, word, Role::Faint);
            }
            self.line(indent, line, role);
            self.next();
        }
    }
}

/// Draws an answer from the top: what matters first. A protractor stands beside
/// the figures, a rule under them.
pub(super) fn draw(answer: &Answer, look: Look, area: Rect, buf: &mut Buffer) {
    let mut down = Down { area, y: area.y + u16::from(area.height >= 12), look, buf };
    for line in &answer.lead {
        down.words("", line, Role::Strong);
    }
    for finding in answer.findings.iter().filter(|it| !it.hint.is_empty()) {
        down.words("", &crate::report::text::finding(finding), Role::Look);
    }
    let told = [("worked", &answer.worked), ("rule", &answer.rule), ("source", &answer.source)];
    let sources = told.iter().filter(|(_, text)| !text.is_empty()).count() as u16;
    if let Drawn::Protractor(degrees) = answer.drawn
        && down.left() >= protractor::ROWS
        && area.width >= 60
    {
        let at = Rect {
            x: area.right().saturating_sub(protractor::WIDE),
            y: down.y,
            width: protractor::WIDE,
            height: protractor::ROWS,
        };
        protractor::draw(degrees, at, look, down.buf);
        down.area.width = area.width - protractor::WIDE - 1;
    }
    let picture = if matches!(answer.drawn, Drawn::Rule(_)) { rule::ROWS } else { 0 };
    // The rule keeps its room where some figures then still have theirs.
    let picture = if down.left() >= picture + sources + 3 { picture } else { 0 };
    let kept = sources + picture;
    let room = down.left().saturating_sub(kept);
    figures(answer, &mut down, room);
    lists(answer, &mut down, kept);
    if picture > 0 {
        let at =
            Rect { y: down.y, height: picture, x: area.x + 1, width: area.width.saturating_sub(2) };
        drawn(answer.drawn, at, look, down.buf);
        down.y += picture;
    }
    let spare = down.left() > sources + 3;
    for (word, text) in told.into_iter().filter(|(_, text)| !text.is_empty()) {
        if spare {
            down.words(word, text, Role::Faint);
        } else {
            down.line(1, word, Role::Faint);
            down.line(9, text, Role::Faint);
            down.next();
        }
    }
}

fn picture_rows(drawn: Drawn) -> u16 {
    match drawn {
        Drawn::Nothing => 0,
        Drawn::Rule(_) => rule::ROWS,
        Drawn::Protractor(_) => protractor::ROWS,
    }
}

fn drawn(picture: Drawn, area: Rect, look: Look, buf: &mut Buffer) {
    match picture {
        Drawn::Nothing => {}
        Drawn::Rule(length) => rule::draw(length, area, look, buf),
        Drawn::Protractor(degrees) => protractor::draw(degrees, area, look, buf),
    }
}

/// Figures in columns: name, as written, in decimals, on the model.
fn figures(answer: &Answer, down: &mut Down<'_>, room: u16) {
    let shown: Vec<&Figure> = answer.figures.iter().take(usize::from(room)).collect();
    let widest = |of: fn(&Figure) -> &str| {
        shown.iter().map(|figure| of(figure).chars().count()).max().unwrap_or(0) as u16
    };
    let name = widest(|figure| &figure.name).min(down.area.width / 2).max(4) + 3;
    let text = name + widest(|figure| &figure.text) + 2;
    for figure in shown {
        let most = usize::from(name.saturating_sub(3));
        down.line(1, &clip(&figure.name, most), Role::Faint);
        down.line(name, &figure.text, Role::Text);
        let more = if figure.on_model.is_empty() { &figure.decimal } else { &figure.on_model };
        if text + 6 < down.area.width {
            down.line(text, more, Role::Built);
        }
        down.next();
    }
}

fn lists(answer: &Answer, down: &mut Down<'_>, kept: u16) {
    for list in &answer.lists {
        let rows = down.left().saturating_sub(kept + 3);
        if rows < 2 {
            return;
        }
        let widths: Vec<usize> = (0..list.heads.len())
            .map(|at| {
                let cells = list.rows.iter().filter_map(|row| row.get(at));
                let head = list.heads[at].trim_start_matches('>').chars().count();
                cells.map(|cell| cell.chars().count()).fold(head, usize::max)
            })
            .collect();
        let line = |cells: &[String]| {
            let padded = cells.iter().zip(&widths).zip(&list.heads).map(|((cell, wide), head)| {
                let cell = cell.trim_start_matches('>');
                let wide = *wide;
                if head.starts_with('>') {
                    format!("{cell:>wide$}")
                } else {
                    format!("{cell:<wide$}")
                }
            });
            padded.collect::<Vec<_>>().join("  ")
        };
        down.next();
        down.line(1, &list.title, Role::Faint);
        down.next();
        down.line(1, &line(&list.heads), Role::Faint);
        down.next();
        for row in list.rows.iter().take(usize::from(rows)) {
            down.line(1, &line(row), Role::Text);
            down.next();
        }
    }
}

/// The first figure as large as fits, its picture under it.
pub(super) fn large(answer: &Answer, look: Look, area: Rect, buf: &mut Buffer) {
    let Some(first) = answer.figures.iter().find(|figure| !figure.text.is_empty()) else { return };
    let top = Rect { height: area.height.min(7), ..area };
    set(buf, area, area.x, area.y, &first.name, look.style(Role::Faint));
    let figure = Rect { y: top.y + 1, height: top.height.saturating_sub(1), ..top };
    if !blocks::draw(&first.text, figure, look.style(Role::Prototype), buf) {
        set(buf, figure, figure.x, figure.y, &first.text, look.style(Role::Strong));
    }
    let mut down = Down { area, y: top.bottom(), look, buf };
    for line in &answer.lead {
        down.words("", line, Role::Strong);
    }
    let rows = picture_rows(answer.drawn);
    if down.left() >= rows {
        let at = Rect { y: down.y, height: rows, ..area };
        drawn(answer.drawn, at, look, down.buf);
    }
}

/// Rows an answer takes at most.
pub(super) const LONGEST: u16 = 160;

fn columns(area: Rect) -> u16 {
    if area.width >= 100 { 2 } else { 1 }
}

/// Rows that the list of the sums takes.
pub(super) fn rows(sums: &[&Sum], area: Rect) -> u16 {
    (sums.len() as u16).div_ceil(columns(area)) + 1
}

/// The sums there are, with a line that asks for each.
pub(super) fn contents(sums: &[&Sum], look: Look, area: Rect, buf: &mut Buffer) {
    let mut down = Down { area, y: area.y, look, buf };
    if sums.is_empty() || area.height < 3 {
        return;
    }
    let columns = columns(area);
    let each = area.width / columns;
    let rows = usize::from(area.height.saturating_sub(1));
    down.line(1, "ask for example", Role::Faint);
    down.next();
    let top = down.y;
    for (at, sum) in sums.iter().take(rows * usize::from(columns)).enumerate() {
        let x = (at / rows) as u16 * each;
        down.y = top + (at % rows) as u16;
        down.line(x + 1, sum.key, Role::Faint);
        let room = usize::from(each.saturating_sub(16));
        down.line(x + 15, &clip(sum.example, room), Role::Text);
    }
}
