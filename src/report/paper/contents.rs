//! The first page: what is where, how the print is checked, how lines are
//! drawn, cautions of the bench.

use super::flow::Flow;
use crate::drawing::{Figure, Page, Setup, Template};
use crate::quantity::PaperLength;
use crate::report::table::{Row, Table};
use crate::report::{Seen, cautions};

/// The page, for sheets whose pages begin after it.
#[must_use]
pub fn figures(
    seen: Seen<'_>,
    setup: &Setup,
    sheets: &[(&Template, Vec<usize>)],
    room: (PaperLength, PaperLength),
) -> Vec<Figure> {
    let mut flow = Flow::new("contents", room);
    flow.title(&format!("{}, {}", seen.job.about.name, setup.scale));
    if !seen.job.about.intent.is_empty() {
        flow.paragraph(&format!("What must survive: {}", seen.job.about.intent));
    }
    flow.heading("Pages");
    let mut table = Table::new("", &["sheet", "pages", "what it shows"]);
    for (template, pages) in sheets {
        let about = template.kind.about().to_owned();
        table.push(Row::plain(vec![template.kind.title().to_owned(), runs(pages), about]));
    }
    flow.table(&table);
    flow.heading("Before anything is cut");
    flow.item("1.", "Print at 100 percent on the paper named above, with no fitting to the page.");
    flow.item("2.", "Measure both bars of an upright page with a steel rule, and type what they measure: templates JOB --bars 3.98in 99.6mm");
    flow.item("3.", &check(setup));
    flow.heading("Lines");
    flow.item("", "Thick: cut through. Thin: scribe; thin and broken: fold or score. Finest: marks and notes; broken lines with crosses join two pages. Arrows at a label point up; double arrows lie along the grain. Walls are seen from outside.");
    flow.heading("Cautions");
    flow.item("-", cautions::FIRST);
    for (step, says) in cautions::by_step(seen) {
        flow.item("-", &format!("{step}: {says}"));
    }
    flow.finish()
}

/// What is known of the printer.
fn check(setup: &Setup) -> String {
    if setup.check.is_plain() {
        return "These pages are not corrected: no print check is in the job.".to_owned();
    }
    format!(
        "These pages are corrected for a printer that makes {:.2} percent across and {:.2} up.",
        setup.check.across * 100.0,
        setup.check.up * 100.0
    )
}

/// Page numbers in runs: `2-5, 9`.
fn runs(pages: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &page in pages {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == page => *last = page,
            _ => runs.push((page, page)),
        }
    }
    let word = |(first, last): &(usize, usize)| match first == last {
        true => first.to_string(),
        false => format!("{first}-{last}"),
    };
    runs.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// The pages that show each sheet.
#[must_use]
pub fn pages_of<'a>(
    templates: &'a [Template],
    pages: &[Page],
    before: usize,
) -> Vec<(&'a Template, Vec<usize>)> {
    let on = |template: &Template| {
        let title = template.kind.title();
        let here = pages.iter().enumerate().filter(|(_, page)| {
            page.title == title || page.title.starts_with(&format!("{title}: "))
        });
        here.map(|(at, _)| at + 1 + before).collect::<Vec<_>>()
    };
    templates.iter().map(|template| (template, on(template))).collect()
}
