//! The pages to print and the files to write, as tables, pages and bytes.
//!
//! JSON: `stop` where nothing can be drawn, else `paper`, `check` (`across`,
//! `up`), `sheets[]` (`key`, `title`, `pages[]`, `figures[]`), `pages[]`
//! (`number`, `title`, `width_mm`, `height_mm`, `figures[]`, and `tile` as
//! `column`, `row`, `columns`, `rows` where it is one of several).

use serde_json::{Value, json};

use super::faces::stopped;
use super::paper::{contents, cut_list, flow, half_page};
use super::table::{Mark, Row, Table, View};
use super::{Seen, ViewId, before_after, cautions, field_sheet};
use crate::drawing::sheets::plans;
use crate::drawing::template::{Bench, drawn};
use crate::drawing::{Page, Paper, Setup, Template, TemplateKind, page};
use crate::finding::{Finding, Stop, Subject};
use crate::job::model::Units;
use crate::quantity::{ModelLength, PaperLength};

pub mod files;

/// What is to be printed, and on what.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// The paper.
    pub paper: Paper,
    /// The sheets; all where none is named.
    pub kinds: Vec<TemplateKind>,
    /// Thickness of the card of the mock-up.
    pub card: ModelLength,
    /// What the laser's beam eats.
    pub kerf: ModelLength,
    /// Materials whose maker allows a laser.
    pub laser_safe: Vec<String>,
}

impl Wish {
    /// What the job asks for.
    ///
    /// # Errors
    /// When its paper, card or kerf cannot be.
    pub fn of(seen: Seen<'_>) -> Result<Self, Stop> {
        let said = &seen.job.paper;
        let usual = match seen.job.about.units {
            Units::FeetInches => Paper::ALL[0],
            Units::Metric => Paper::ALL[1],
        };
        Ok(Self {
            paper: said.size()?.unwrap_or(usual),
            kinds: Vec::new(),
            card: said.card()?,
            kerf: said.laser_kerf()?,
            laser_safe: said.laser_safe.clone(),
        })
    }

    fn wants(&self, kind: TemplateKind) -> bool {
        self.kinds.is_empty() || self.kinds.contains(&kind)
    }
}

/// What all pages share.
///
/// # Errors
/// When the print check of the job cannot be.
pub fn setup(seen: Seen<'_>, wish: &Wish) -> Result<Setup, Stop> {
    Ok(Setup {
        paper: wish.paper,
        check: seen.job.paper.check()?,
        job: seen.job.about.name.clone(),
        scale: seen.job.about.scale.clone(),
    })
}

/// The sheets that are drawn, without those set in type.
///
/// # Errors
/// When the building cannot be laid out.
pub fn sheets(seen: Seen<'_>, wish: &Wish) -> Result<Vec<Template>, Stop> {
    let plan = seen.plan;
    let built = &plan.compress.as_ref().map_err(Clone::clone)?.built;
    let takeoff = plan.takeoff.as_ref().map_err(Clone::clone)?;
    let bench = Bench {
        job: seen.job,
        catalog: seen.catalog,
        built,
        takeoff,
        stock: plan.stock.as_ref().map_err(Clone::clone)?,
        scale: plan.scale.as_ref().map_err(Clone::clone)?,
        card: wish.card,
        clearance: plan.clearance.as_ref().ok().and_then(Option::as_ref),
    };
    Ok(drawn(&bench).into_iter().filter(|template| wish.wants(template.kind)).collect())
}

/// All sheets, those set in type for the room of the paper.
fn all_sheets(seen: Seen<'_>, wish: &Wish, setup: &Setup) -> Result<Vec<Template>, Stop> {
    let room = setup.format(false).room;
    let room = (room.width() - mm(1.0), room.height() - mm(2.0));
    let mut all = sheets(seen, wish)?;
    let notation = seen.job.about.model_notation();
    let set = |kind: TemplateKind| match kind {
        TemplateKind::FieldSheet => flow::view(&field_sheet::view(seen), kind.key(), room),
        TemplateKind::CutList => flow::view(&cut_list::view(seen), kind.key(), room),
        TemplateKind::Record => {
            let half = (room.0, room.1 / 2.0);
            let drawn = before_after::figure(seen, half);
            half_page::figures(seen, half).into_iter().chain(drawn).collect()
        }
        TemplateKind::Sticks => match &seen.plan.layout {
            Ok(layout) => plans::sticks(&layout.sticks, notation, room.0),
            Err(_) => Vec::new(),
        },
        TemplateKind::Sheets => match &seen.plan.layout {
            Ok(layout) => plans::sheets(&layout.sheets, notation, room),
            Err(_) => Vec::new(),
        },
        _ => Vec::new(),
    };
    for kind in TemplateKind::ALL.iter().copied().filter(|kind| wish.wants(*kind)) {
        let figures = set(kind);
        if !figures.is_empty() {
            all.push(Template { kind, figures });
        }
    }
    all.sort_by_key(|template| template.kind);
    let pages = page::tiles(&all, setup);
    if pages > page::MOST_PAGES {
        return Err(Stop::new(
            "laying out pages",
            format!("at this scale it takes {pages} pages, and {} are the most", page::MOST_PAGES),
            "look at `scale`, take larger paper, or ask for some sheets alone",
        ));
    }
    Ok(all)
}

fn mm(millimetres: f64) -> PaperLength {
    PaperLength::millimetres(millimetres)
}

/// The pages, the contents first.
///
/// # Errors
/// When the building cannot be laid out, or the print check cannot be.
pub fn pages(seen: Seen<'_>, wish: &Wish) -> Result<Vec<Page>, Stop> {
    let setup = setup(seen, wish)?;
    let mut templates = all_sheets(seen, wish, &setup)?;
    if wish.wants(TemplateKind::Contents) {
        let laid = page::lay_out(&templates, &setup);
        let room = setup.format(false).room;
        let room = (room.width() - mm(1.0), room.height() - mm(2.0));
        let contents = |before: usize| {
            let listed = contents::pages_of(&templates, &laid, before);
            contents::figures(seen, &setup, &listed, room)
        };
        let figures = contents(contents(1).len());
        templates.insert(0, Template { kind: TemplateKind::Contents, figures });
    }
    Ok(page::lay_out(&templates, &setup))
}

/// The build record as pages.
///
/// # Errors
/// When the print check of the job cannot be.
pub fn record_pages(seen: Seen<'_>) -> Result<Vec<Page>, Stop> {
    let wish = Wish::of(seen)?;
    let setup = setup(seen, &wish)?;
    let room = setup.format(false).room;
    let room = (room.width() - mm(1.0), room.height() - mm(2.0));
    let mut told = ViewId::Record.kind().shown(seen);
    // Drawn in lines behind it.
    told.tables.retain(|table| table.title != "Before and after");
    let mut figures = flow::view(&told, "record", room);
    figures.extend(before_after::figure(seen, (room.0, room.1 / 2.0)));
    let template = Template { kind: TemplateKind::Record, figures };
    Ok(page::lay_out(&[template], &setup))
}

/// The view: sheets, then pages.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    let title = format!("{}: templates", seen.job.about.name);
    let made = Wish::of(seen).and_then(|wish| Ok((pages(seen, &wish)?, setup(seen, &wish)?)));
    let (pages, setup) = match made {
        Ok(made) => made,
        Err(stop) => return stopped(title, &stop),
    };
    View {
        title,
        lead: lead(&pages, &setup),
        tables: [
            sheet_table(&pages),
            page_table(&pages),
            format_table(),
            laser_table(seen),
            cautions::table(seen),
        ]
        .into_iter()
        .filter(|table| !table.rows.is_empty())
        .collect(),
        findings: noticed(seen),
        next: "print the pages, measure both bars, and type what they measure".to_owned(),
        ..View::default()
    }
}

/// What keeps a sheet from being drawn.
fn noticed(seen: Seen<'_>) -> Vec<Finding> {
    let no_core = seen.job.core_thick().is_none();
    let core = no_core.then(|| {
        Finding::note(
            Subject::Job,
            "core walls are not drawn: the job gives no thickness of the core",
        )
    });
    core.into_iter().collect()
}

fn lead(pages: &[Page], setup: &Setup) -> Vec<String> {
    let check = if setup.check.is_plain() {
        "The print is not checked: print one page, measure both bars, type them in.".to_owned()
    } else {
        format!(
            "Corrected for a printer that makes {:.2} percent across and {:.2} up.",
            setup.check.across * 100.0,
            setup.check.up * 100.0
        )
    };
    vec![format!("{} pages of {}, at 1:1. {check}", pages.len(), setup.paper.name)]
}

fn kind_of(page: &Page) -> Option<TemplateKind> {
    TemplateKind::ALL.iter().copied().find(|kind| {
        page.title == kind.title() || page.title.starts_with(&format!("{}: ", kind.title()))
    })
}

fn sheet_table(pages: &[Page]) -> Table {
    let mut table = Table::new("Sheets", &["sheet", ">pages", "from", ">figures", "what it shows"]);
    for kind in TemplateKind::ALL {
        let here: Vec<&Page> = pages.iter().filter(|page| kind_of(page) == Some(*kind)).collect();
        let Some(first) = here.first() else { continue };
        let figures: std::collections::BTreeSet<&str> =
            here.iter().flat_map(|page| page.labels()).collect();
        table.push(Row::about(
            Subject::Page(first.number),
            vec![
                kind.key().to_owned(),
                here.len().to_string(),
                format!("page {}", first.number),
                figures.len().to_string(),
                kind.about().to_owned(),
            ],
        ));
    }
    table
}

/// What each sheet is cut from, and whether a laser may cut it.
fn laser_table(seen: Seen<'_>) -> Table {
    let mut table = Table::new("For a laser", &["sheet", "cut from", "a laser", "why"]);
    for kind in [TemplateKind::Core, TemplateKind::Roof, TemplateKind::Cladding] {
        for material in cautions::materials(seen, kind) {
            let row = seen.catalog.cautions.material(&material);
            let may = match row {
                Some(row) if row.laser => "may cut it",
                _ => "is refused",
            };
            let why = row.map_or("what it gives off is not known", |row| row.why.as_str());
            let mark = if row.is_some_and(|row| row.laser) { Mark::Plain } else { Mark::Look };
            let cells = vec![kind.key().to_owned(), material, may.to_owned(), why.to_owned()];
            table.push(Row::plain(cells).marked(mark));
        }
    }
    table
}

fn page_table(pages: &[Page]) -> Table {
    let mut table = Table::new("Pages", &[">page", "sheet", "tile", "figures"]);
    for page in pages {
        let tile = page.tile().map_or(String::new(), |tile| {
            format!(
                "{} of {} across, {} of {} down",
                tile.column + 1,
                tile.columns,
                tile.row + 1,
                tile.rows
            )
        });
        let labels: Vec<&str> = page.labels().collect();
        table.push(Row::about(
            Subject::Page(page.number),
            vec![page.number.to_string(), page.title.clone(), tile, labels.join(", ")],
        ));
    }
    table
}

fn format_table() -> Table {
    let mut table = Table::new("Files", &["format", "what is written"]);
    for format in files::Format::ALL {
        table.push(Row::plain(vec![format.key().to_owned(), format.about().to_owned()]));
    }
    table
}

/// The view as JSON.
#[must_use]
pub fn json(seen: Seen<'_>) -> Value {
    match Wish::of(seen) {
        Ok(wish) => json_of(seen, &wish),
        Err(stop) => json!({ "stop": stop }),
    }
}

/// The pages of a wish as JSON.
#[must_use]
pub fn json_of(seen: Seen<'_>, wish: &Wish) -> Value {
    let made = pages(seen, wish).and_then(|pages| Ok((pages, setup(seen, wish)?)));
    let (pages, setup) = match made {
        Ok(made) => made,
        Err(stop) => return json!({ "stop": stop }),
    };
    let sheet = |kind: &TemplateKind| {
        let here: Vec<&Page> = pages.iter().filter(|page| kind_of(page) == Some(*kind)).collect();
        let figures: std::collections::BTreeSet<&str> =
            here.iter().flat_map(|page| page.labels()).collect();
        (!here.is_empty()).then(|| {
            json!({
                "key": kind.key(),
                "title": kind.title(),
                "pages": here.iter().map(|page| page.number).collect::<Vec<_>>(),
                "figures": figures,
            })
        })
    };
    json!({
        "paper": wish.paper.key,
        "check": { "across": setup.check.across, "up": setup.check.up },
        "sheets": TemplateKind::ALL.iter().filter_map(sheet).collect::<Vec<_>>(),
        "pages": pages.iter().map(|page| json!({
            "number": page.number,
            "title": page.title,
            "width_mm": page.format.media.0.in_millimetres(),
            "height_mm": page.format.media.1.in_millimetres(),
            "figures": page.labels().collect::<Vec<_>>(),
            "tile": page.tile().map(|tile| json!({
                "column": tile.column, "row": tile.row,
                "columns": tile.columns, "rows": tile.rows,
            })),
        })).collect::<Vec<_>>(),
    })
}
