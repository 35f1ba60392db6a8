//! The files of a job: which formats there are, and the bytes of each.

use super::{Wish, pages, setup, sheets};
use crate::drawing::{Template, TemplateKind, bed};
use crate::finding::Stop;
use crate::job::model::Units;
use crate::quantity::PaperLength;
use crate::report::{Seen, cautions, layout};
use crate::writers::dxf::{self, DxfUnit, Version};
use crate::writers::save::{FileOut, file_stem};
use crate::writers::{pdf, png, svg};

/// Dots to the inch of a picture of a page.
const DOTS: u32 = 100;
/// A laser's bed where figures are laid side by side: the longest common
/// sheet, 24 in.
const BED_INCHES: f64 = 24.0;

macro_rules! formats {
    ($($name:ident $key:literal $about:literal;)*) => {
        /// A form in which templates are written.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Format {
            $(#[doc = $about] $name,)*
        }

        impl Format {
            /// Every form.
            pub const ALL: &'static [Self] = &[$(Self::$name),*];

            /// The word it is asked for by.
            #[must_use]
            pub fn key(self) -> &'static str {
                match self { $(Self::$name => $key,)* }
            }

            /// What is written.
            #[must_use]
            pub fn about(self) -> &'static str {
                match self { $(Self::$name => $about,)* }
            }
        }
    };
}

formats! {
    Pdf "pdf" "All pages at 1:1 in one file, corrected by the print check.";
    Svg "svg" "A file a sheet in millimetres, kerf allowed for, with a test square.";
    Dxf "dxf" "R12, a file a sheet: layers through, scribe, mark; the unit in its name.";
    Dxf2000 "dxf-2000" "R2000, the same with the unit in the file.";
    Png "png" "A picture of every page.";
    Csv "csv" "The cut list, for a spreadsheet.";
}

impl Format {
    /// The form of that name.
    ///
    /// # Errors
    /// When there is none: the forms there are.
    pub fn find(key: &str) -> Result<Self, Stop> {
        Self::ALL.iter().find(|format| format.key() == key).copied().ok_or_else(|| {
            let keys: Vec<&str> = Self::ALL.iter().map(|format| format.key()).collect();
            Stop::new(
                "choosing the format",
                format!("there is no format \"{key}\""),
                format!("the formats are {}", keys.join(", ")),
            )
        })
    }

    /// Whether it is for a laser.
    #[must_use]
    pub fn is_for_a_laser(self) -> bool {
        matches!(self, Self::Svg | Self::Dxf | Self::Dxf2000)
    }

    /// Whether all goes into one file.
    #[must_use]
    pub fn is_one_file(self) -> bool {
        matches!(self, Self::Pdf | Self::Csv)
    }
}

/// What to bear in mind with files of a format, each sentence once.
#[must_use]
pub fn cautioned(seen: Seen<'_>, wish: &Wish, format: Format) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    if format.is_for_a_laser() {
        let kinds = sheets(seen, wish).unwrap_or_default();
        let kinds = kinds.iter().filter(|template| for_a_laser(template));
        for says in kinds.flat_map(|template| {
            cautions::for_laser(seen, &cautions::materials(seen, template.kind))
        }) {
            if !out.contains(&says) {
                out.push(says);
            }
        }
    } else if format != Format::Csv {
        let knife = seen.catalog.cautions.steps.iter().filter(|step| step.key == "knife");
        out.extend(knife.flat_map(|step| step.says.iter().cloned()));
    }
    out
}

/// The files of a format.
///
/// # Errors
/// When the building cannot be laid out, or a shape is smaller than the kerf.
pub fn files(seen: Seen<'_>, wish: &Wish, format: Format) -> Result<Vec<FileOut>, Stop> {
    let stem = file_stem(&seen.job.about.name);
    match format {
        Format::Pdf => {
            let bytes = pdf::write(&pages(seen, wish)?, &seen.job.about.name);
            Ok(vec![FileOut { name: format!("{stem}-templates.pdf"), bytes }])
        }
        Format::Png => pages(seen, wish)?
            .iter()
            .map(|page| {
                let name = format!("{stem}-page-{:03}.png", page.number);
                Ok(FileOut { name, bytes: png::write(page, DOTS)? })
            })
            .collect(),
        Format::Csv => {
            let bytes = layout::csv(seen)?.into_bytes();
            Ok(vec![FileOut { name: format!("{stem}-cut-list.csv"), bytes }])
        }
        Format::Svg | Format::Dxf | Format::Dxf2000 => {
            // The bars say nothing of a laser: what it cuts is not corrected.
            setup(seen, wish)?;
            let cut: Vec<Template> = sheets(seen, wish)?.into_iter().filter(for_a_laser).collect();
            for one in &cut {
                let what = one.kind.title().to_lowercase();
                let materials = cautions::materials(seen, one.kind);
                cautions::laser_may(seen, &what, &materials, &wish.laser_safe)?;
            }
            cut.iter().map(|one| laser(seen, wish, one, format, &stem)).collect()
        }
    }
}

/// Openings alone are no part, and jigs are glued to a board as paper.
fn for_a_laser(template: &Template) -> bool {
    !matches!(template.kind, TemplateKind::Castings | TemplateKind::Jigs)
}

fn laser(
    seen: Seen<'_>,
    wish: &Wish,
    template: &Template,
    format: Format,
    stem: &str,
) -> Result<FileOut, Stop> {
    let kerf = crate::drawing::shape::on_paper(wish.kerf);
    let drawing = bed::arranged(&template.figures, kerf, PaperLength::inches(BED_INCHES))?;
    let key = template.kind.key();
    let words = cautions::for_laser(seen, &cautions::materials(seen, template.kind));
    let unit = match seen.job.about.units {
        Units::FeetInches => DxfUnit::Inches,
        Units::Metric => DxfUnit::Millimetres,
    };
    let (name, text) = match format {
        Format::Svg => {
            let title = format!("{}: {}", seen.job.about.name, template.kind.title());
            (format!("{stem}-{key}.svg"), svg::write(&drawing, &title, &words, &seen.catalog.fits))
        }
        Format::Dxf2000 => {
            let text = dxf::write(&drawing, Version::R2000, unit, &words);
            (format!("{stem}-{key}-r2000.dxf"), text)
        }
        _ => {
            let text = dxf::write(&drawing, Version::R12, unit, &words);
            (format!("{stem}-{key}-{}.dxf", unit.word()), text)
        }
    };
    Ok(FileOut { name, bytes: text.into_bytes() })
}
