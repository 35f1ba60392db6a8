//! Tables for the wall above the bench, for the scales one uses.

use super::table::{Row, Table, View};
use crate::bench::Look;
use crate::catalog::Catalog;
use crate::catalog::lumber::{Axis, Class, Era};
use crate::lamps::resistor::next_up;
use crate::quantity::{
    Current, Denominator, ModelLength, Notation, PrototypeLength, Scale, Voltage, significant,
};
use crate::sums::roof;

/// A table that can be asked for.
#[derive(Debug)]
pub struct WallTable {
    /// What it is called.
    pub key: &'static str,
    title: &'static str,
    make: fn(&Wall<'_>) -> Vec<Table>,
}

/// Every table.
pub const TABLES: &[WallTable] = &[
    WallTable { key: "lumber", title: "Nominal lumber on the model", make: lumber },
    WallTable { key: "courses", title: "Courses on the model", make: courses },
    WallTable { key: "slopes", title: "Slopes", make: slopes },
    WallTable { key: "resistors", title: "Resistors for lamps", make: resistors },
    WallTable { key: "inches", title: "Fractions of an inch at full size", make: inches },
];

struct Wall<'a> {
    scales: &'a [Scale],
    catalog: &'a Catalog,
    year: Option<i32>,
    look: Look,
}

/// One table as a view.
#[must_use]
pub fn view(
    table: &WallTable,
    scales: &[Scale],
    catalog: &Catalog,
    year: Option<i32>,
    look: Look,
) -> View {
    let wall = Wall { scales, catalog, year, look };
    View { title: table.title.to_owned(), tables: (table.make)(&wall), ..View::default() }
}

impl Wall<'_> {
    /// A full-size length at each scale: as a fraction, and in thou or millimetres.
    fn cells(&self, full: PrototypeLength) -> Vec<String> {
        self.scales.iter().map(|scale| self.cell(scale.reduce(full))).collect()
    }

    fn cell(&self, model: ModelLength) -> String {
        let fine = if self.look.is_metric() {
            format!("{:.2} mm", model.in_millimetres())
        } else {
            format!("{:.1}", model.in_thou())
        };
        format!("{fine}  {}", Notation::Inches(Denominator::SIXTY_FOURTHS).show(&model))
    }

    fn table(&self, title: &str, first: &[&str]) -> Table {
        let unit = if self.look.is_metric() { "mm" } else { "thou" };
        let heads: Vec<String> =
            self.scales.iter().map(|scale| format!(">{scale}: {unit}, 1/64")).collect();
        let all: Vec<&str> =
            first.iter().copied().chain(heads.iter().map(String::as_str)).collect();
        Table::new(title, &all)
    }

    fn eras(&self) -> Vec<&Era> {
        let all = &self.catalog.lumber.eras;
        match self.year {
            Some(year) => self.catalog.lumber.eras_of_year(year),
            None => {
                all.iter().filter(|era| era.key != "to-1924" && era.key != "ps20-green").collect()
            }
        }
    }
}

/// Thickness and width of dimension lumber by era.
fn lumber(wall: &Wall<'_>) -> Vec<Table> {
    let one = |era: &&Era| {
        let mut table = wall.table(&era.name, &["nominal", ">is"]);
        let sides: Vec<_> = wall.catalog.lumber.sides(&era.key).collect();
        for (class, axis, word, most) in [
            (Class::Board, Axis::Thickness, "board, thick", 2.0),
            (Class::Dimension, Axis::Thickness, "plank, thick", 4.5),
            (Class::Dimension, Axis::Width, "plank, wide", 12.5),
        ] {
            let wanted = sides.iter().filter(|side| side.class == class && side.axis == axis);
            for side in wanted.filter(|side| {
                let nominal = side.nominal.value();
                nominal >= 1.0 && nominal < most && (axis == Axis::Thickness || nominal >= 3.0)
            }) {
                let mut cells = vec![
                    format!("{} in {word}", side.nominal),
                    Notation::Inches(Denominator::SIXTY_FOURTHS).show(&side.actual),
                ];
                cells.extend(wall.cells(side.actual.length()));
                table.push(Row::plain(cells));
            }
        }
        table.notes.push(era.source.clone());
        table
    };
    wall.eras().iter().map(one).collect()
}

/// One course and ten of the usual kinds.
fn courses(wall: &Wall<'_>) -> Vec<Table> {
    let mut table = wall.table("One course, and ten", &["course", ">in"]);
    for (name, inches) in [
        ("corrugation 2 1/2 in", 2.5),
        ("modular brick, 3 to 8 in", 8.0 / 3.0),
        ("UK brick, 75 mm", 75.0 / 25.4),
        ("engineer brick, 5 to 16 in", 3.2),
        ("clapboard", 4.0),
        ("clapboard", 4.5),
        ("shingle 16 in at 4:12", 5.0),
        ("shingle 18 in at 4:12", 5.5),
        ("shingle 24 in at 4:12", 7.5),
        ("slate 20 in, lap 3", 8.5),
        ("concrete block", 8.0),
        ("board", 6.0),
        ("board", 10.0),
        ("board", 12.0),
    ] {
        for (times, word) in [(1.0, ""), (10.0, ", ten of them")] {
            let mut cells = vec![format!("{name}{word}"), significant(inches * times, 5)];
            cells.extend(wall.cells(PrototypeLength::inches(inches * times)));
            table.push(Row::plain(cells));
        }
    }
    table.notes.push(
        "brick: Brick Industry Association Technical Notes 10; shingles: IRC 2018 table R905.7.5(1), No. 1; slate: (length - lap) / 2".to_owned(),
    );
    vec![table]
}

/// Slope factors.
fn slopes(_: &Wall<'_>) -> Vec<Table> {
    let heads = [
        "pitch",
        ">degrees",
        ">level cut",
        ">factor",
        ">hip and valley",
        ">hip from level",
        ">hip bevel",
    ];
    let mut table = Table::new("Slope factors: times the run", &heads);
    for rise in [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 24] {
        let p = f64::from(rise) / 12.0;
        let angle = p.atan().to_degrees();
        table.push(Row::plain(vec![
            format!("{rise}:12"),
            format!("{angle:.2}"),
            format!("{:.2}", 90.0 - angle),
            format!("{:.4}", p.hypot(1.0)),
            format!("{:.4}", (2.0 + p * p).sqrt()),
            format!("{:.2}", (p / std::f64::consts::SQRT_2).atan().to_degrees()),
            format!("{:.2}", roof::hip_bevel(p).in_degrees()),
        ]));
    }
    table.notes.push(
        "plumb cut at the degrees of the pitch; factor sqrt(1 + p^2), hip sqrt(2 + p^2)".to_owned(),
    );
    vec![table]
}

/// Resistors for lamps in series, and the standard values.
fn resistors(wall: &Wall<'_>) -> Vec<Table> {
    let data = &wall.catalog.lamps;
    let heads = ["supply", ">lamps", ">2 mA", ">5 mA", ">10 mA"];
    let mut table = Table::new("White lamps of 3.2 V in series: next value up of E12, ohm", &heads);
    let Some(series) = data.series("E12") else { return vec![table] };
    for volts in [3.0, 4.5, 5.0, 6.0, 9.0, 12.0] {
        for lamps in 1..=3 {
            let left = volts - 3.2 * f64::from(lamps);
            if left <= 0.05 {
                continue;
            }
            let mut cells = vec![format!("{volts} V"), lamps.to_string()];
            for milli in [2.0, 5.0, 10.0] {
                let exact = Voltage::volts(left) / Current::milliamperes(milli);
                let up = next_up(series, exact);
                cells.push(up.map_or(String::new(), |ohms| significant(ohms.in_ohms(), 2)));
            }
            table.push(Row::plain(cells));
        }
    }
    table.notes.push(
        "R = (V - n Vf) / I; low voltage only, a resistor for each branch, a fuse".to_owned(),
    );
    let mut values = Table::new("Standard values, times any power of ten", &["series", "values"]);
    for series in &data.series {
        let all: Vec<String> = series.values.iter().map(u32::to_string).collect();
        values.push(Row::plain(vec![series.key.clone(), all.join(" ")]));
    }
    vec![table, values]
}

/// What a fraction of an inch on the model is at full size.
fn inches(wall: &Wall<'_>) -> Vec<Table> {
    let heads: Vec<String> =
        wall.scales.iter().map(|scale| format!(">{scale}, in full size")).collect();
    let all: Vec<&str> =
        ["inch", ">thou", ">mm"].into_iter().chain(heads.iter().map(String::as_str)).collect();
    let mut table = Table::new("On the model", &all);
    for n in 1..=64_u32 {
        let step = if n <= 16 || n % 4 == 0 { n } else { continue };
        let model = ModelLength::inches(f64::from(step) / 64.0);
        let mut cells = vec![
            Notation::Inches(Denominator::SIXTY_FOURTHS).show(&model),
            format!("{:.1}", model.in_thou()),
            format!("{:.2}", model.in_millimetres()),
        ];
        for scale in wall.scales {
            let full: PrototypeLength = scale.enlarge(model);
            cells.push(format!("{:.2}", full.in_inches()));
        }
        table.push(Row::plain(cells));
    }
    vec![table]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_table_has_a_column_for_each_scale() {
        let catalog = Catalog::built_in().unwrap();
        let scales: Vec<Scale> =
            ["O", "HO"].iter().map(|name| catalog.scales.find(name).unwrap()).collect();
        for table in TABLES {
            let view = view(table, &scales, &catalog, Some(1926), Look::default());
            assert!(view.tables.iter().all(|table| table.rows.len() > 1), "{}", table.key);
        }
        // 6:12: 26.57 degrees, 1.1180, 1.5 (COMPUTED).
        let slopes = view(&TABLES[2], &scales, &catalog, None, Look::default());
        let six = slopes.tables[0].rows.iter().find(|row| row.texts[0] == "6:12").unwrap();
        assert_eq!(six.texts[1..5], ["26.57", "63.43", "1.1180", "1.5000"]);
        // A 2 in plank is 41.7 thou at 1:48 and 23.0 in HO (COMPUTED).
        let lumber = view(&TABLES[0], &scales, &catalog, Some(1890), Look::default());
        let two =
            lumber.tables[0].rows.iter().find(|row| row.texts[0] == "2 in plank, thick").unwrap();
        assert!(two.texts[2].starts_with("41.7") && two.texts[3].starts_with("23.0"), "{two:?}");
    }
}
