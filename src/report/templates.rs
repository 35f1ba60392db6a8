//! The pages to print and the files to write, as tables, pages and bytes.

use std::collections::BTreeSet;

use super::cell::Cell;
use super::column::{count, only, text};
use super::draft::{one, own, rows};
use super::paper::{contents, cut_list, flow, half_page};
use super::table::{Mark, Table, View};
use super::{Seen, ViewId, before_after, cautions, field_sheet};
use crate::drawing::sheets::plans;
use crate::drawing::template::{Bench, drawn};
use crate::drawing::tile::Tile;
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
    told.tables.retain(|table| table.id != before_after::ID);
    let mut figures = flow::view(&told, "record", room);
    figures.extend(before_after::figure(seen, (room.0, room.1 / 2.0)));
    let template = Template { kind: TemplateKind::Record, figures };
    Ok(page::lay_out(&[template], &setup))
}

/// The view: sheets, then pages.
#[must_use]
pub fn view(seen: Seen<'_>) -> View {
    match Wish::of(seen) {
        Ok(wish) => view_of(seen, &wish),
        Err(stop) => View::stopped(title(seen), &stop),
    }
}

fn title(seen: Seen<'_>) -> String {
    format!("{}: templates", seen.job.about.name)
}

/// The view of what is wished for.
#[must_use]
pub fn view_of(seen: Seen<'_>, wish: &Wish) -> View {
    let made = pages(seen, wish).and_then(|pages| Ok((pages, setup(seen, wish)?)));
    let (pages, setup) = match made {
        Ok(made) => made,
        Err(stop) => return View::stopped(title(seen), &stop),
    };
    View {
        title: title(seen),
        lead: lead(&pages, &setup),
        tables: vec![
            sheet_table(&pages),
            page_table(&pages),
            format_table(),
            laser_table(seen),
            cautions::table(seen),
            own(&setup)
                .col(only("paper"), |it| it.paper.key)
                .within(
                    "check",
                    |it| Some(&it.check),
                    |check| {
                        one("check", check)
                            .col(only("across"), |it| it.across)
                            .col(only("up"), |it| it.up)
                            .table()
                    },
                )
                .table(),
        ],
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
    let sheets = TemplateKind::ALL.iter().filter_map(|kind| {
        let here: Vec<&Page> = pages.iter().filter(|page| kind_of(page) == Some(*kind)).collect();
        let labels: BTreeSet<&str> = here.iter().flat_map(|page| page.labels()).collect();
        Some((kind, here.first()?.number, here, labels.into_iter().collect::<Vec<_>>()))
    });
    rows("sheets", "Sheets", &sheets.collect::<Vec<_>>())
        .about(|(_, first, ..)| Subject::Page(*first))
        .col(text("key", "sheet"), |(kind, ..)| kind.key())
        .col(count("page_count", "pages").screen(), |(.., here, _)| here.len())
        .col(text("from", "from").screen(), |(_, first, ..)| {
            Cell::said(format!("page {first}"), *first)
        })
        .col(count("figure_count", "figures").screen(), |(.., labels)| labels.len())
        .col(text("about", "what it shows").screen(), |(kind, ..)| kind.about())
        .col(only("title"), |(kind, ..)| kind.title())
        .col(only("pages"), |(.., here, _)| Cell::list(here.iter().map(|page| page.number)))
        .col(only("figures"), |(.., labels)| Cell::list(labels))
        .table()
}

/// What each sheet is cut from, and whether a laser may cut it.
fn laser_table(seen: Seen<'_>) -> Table {
    let kinds = [TemplateKind::Core, TemplateKind::Roof, TemplateKind::Cladding];
    let all = kinds.iter().flat_map(|kind| {
        cautions::materials(seen, *kind).into_iter().map(move |material| (kind, material))
    });
    let row = |material: &str| seen.catalog.cautions.material(material);
    let may = |material: &str| row(material).is_some_and(|row| row.laser);
    rows("laser", "For a laser", &all.collect::<Vec<_>>())
        .screen()
        .marked(|(_, it)| if may(it) { Mark::Plain } else { Mark::Look })
        .col(text("key", "sheet"), |(kind, _)| kind.key())
        .col(text("material", "cut from"), |(_, it)| it)
        .col(text("laser", "a laser"), |(_, it)| if may(it) { "may cut it" } else { "is refused" })
        .col(text("why", "why"), |(_, it)| {
            row(it).map_or("what it gives off is not known", |row| row.why.as_str())
        })
        .table()
}

fn page_table(pages: &[Page]) -> Table {
    let tile = |tile: Tile| {
        let Tile { column, row, columns, rows } = tile;
        format!("{} of {columns} across, {} of {rows} down", column + 1, row + 1)
    };
    rows("pages", "Pages", pages)
        .about(|it| Subject::Page(it.number))
        .col(count("number", "page"), |it| it.number)
        .col(text("title", "sheet"), |it| &it.title)
        .col(text("part", "tile").screen(), |it| it.tile().map(tile))
        .col(text("figures", "figures"), |it| Cell::list(it.labels()))
        .col(only("width_mm"), |it| it.format.media.0)
        .col(only("height_mm"), |it| it.format.media.1)
        .within("tile", Page::tile, |tile| {
            one("tile", tile)
                .col(only("column"), |it| it.column)
                .col(only("row"), |it| it.row)
                .col(only("columns"), |it| it.columns)
                .col(only("rows"), |it| it.rows)
                .table()
        })
        .table()
}

fn format_table() -> Table {
    rows("formats", "Files", files::Format::ALL)
        .screen()
        .col(text("key", "format"), |it| it.key())
        .col(text("about", "what is written"), |it| it.about())
        .table()
}
