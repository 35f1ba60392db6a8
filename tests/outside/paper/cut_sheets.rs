//! Files of real sheets for a laser read back with `roxmltree`: the shapes are
//! the parts, no line is drawn twice, and an engraved wall has its lines. Sizes
//! are worked out beside each check (COMPUTED).

use scantling::report::layout::laser::{cautioned, files};
use scantling::report::templates::files::Format;

use super::Made;

/// A wall of 684 in, 14.25 in on the model, engraved in boards of 6 in on one
/// sheet: 114 boards, 113 lines.
fn engraved(more: &str) -> Made {
    Made::of(&format!(
        "[job]\nname = \"test\"\nscale = \"1:48\"\n[materials]\nall = [\"wood\"]\n\
         [[cladding]]\nname = \"engraved\"\nkind = \"boards\"\nunit = \"6 in\"\n\
         thick = \"1/16 in\"\nscribed = true\n[walls]\nlayers = [\"engraved\"]\n\
         [cutting]\nmethod = \"laser\"\nsheets = [[\"16 in\", \"24 in\"]]\n\
         [[opening]]\nname = \"sash\"\nwhat = \"window\"\nwidth = \"30 in\"\nheight = \"40 in\"\n\
         sill = \"40 in\"\n[[wall]]\nof = \"main/front\"\n\
         openings = [{{ kind = \"sash\", at = \"102 in\" }}]\n\
         [[body]]\nname = \"main\"\nlength = \"684 in\"\ndepth = \"240 in\"\neave = \"120 in\"\n\
         roof = {{ kind = \"gable\", pitch = \"6:12\" }}\n{more}"
    ))
}

/// The lines of each layer of all files, by the layer's name: points in mm,
/// and whether they close.
type Lines = Vec<(String, Vec<[f64; 2]>, bool)>;

fn lines(made: &Made) -> Lines {
    let written = files(made.seen(), Format::Svg).unwrap_or_else(|stop| panic!("{stop}"));
    let sheets = written.iter().filter(|file| !file.name.contains("test-piece"));
    let texts = sheets.map(|file| String::from_utf8(file.bytes.clone()).unwrap());
    texts.flat_map(|text| of_text(&text)).collect()
}

fn of_text(text: &str) -> Lines {
    let document = roxmltree::Document::parse(text).unwrap();
    let mut found = Lines::new();
    for group in document.descendants().filter(|it| it.attribute("id").is_some()) {
        // Letters are paths of groups of their own.
        let own = group.children().filter(|it| it.has_tag_name("path"));
        for data in own.filter_map(|it| it.attribute("d")) {
            let points = data.trim_end_matches('Z').split(['M', 'L']).filter(|it| !it.is_empty());
            let points = points.map(|pair| {
                let mut parts = pair.split_whitespace().map(|it| it.parse::<f64>().unwrap());
                [parts.next().unwrap(), parts.next().unwrap()]
            });
            let id = group.attribute("id").unwrap().to_owned();
            found.push((id, points.collect(), data.ends_with('Z')));
        }
    }
    found
}

fn area(points: &[[f64; 2]]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs() / 2.0
}

/// Whether a point lies within a closed line.
fn within(line: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let next = line.iter().cycle().skip(1);
    let crossed = line.iter().zip(next).filter(|(a, b)| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    });
    crossed.count() % 2 == 1
}

#[test]
fn an_engraved_wall_shows_its_lines_cut_at_openings() {
    let made = engraved("");
    let takeoff = made.plan.takeoff.as_ref().unwrap();
    let front = takeoff.part("main/front/scribed-1").unwrap();
    // 113 lines; the window of 30 in from 102 parts six of them, from 102 to 132:
    // along its edges the cut is the line.
    assert_eq!(front.scribed.len(), 113 + 6);
    let wanted: usize = takeoff.parts.iter().map(|it| it.scribed.len() * it.count as usize).sum();
    let scribed: Vec<_> = lines(&made).into_iter().filter(|it| it.0 == "scribe").collect();
    assert_eq!(scribed.len(), wanted);
    // A whole one is as long as the wall is high: 120 at 1:48, 2.5 in.
    let long =
        |points: &[[f64; 2]]| (points[1][0] - points[0][0]).hypot(points[1][1] - points[0][1]);
    let whole = scribed.iter().filter(|it| (long(&it.1) - 63.5).abs() < 1e-4).count();
    // Front and back.
    assert_eq!(whole, 107 + 113);
}

/// Areas as the parts', to a millionth; every line that is cut closes and none
/// is drawn twice; every hole lies in its part.
#[test]
fn what_is_cut_is_the_parts() {
    let made = engraved("");
    let groups = &made.plan.layout.as_ref().unwrap().sheets;
    let lines = lines(&made);
    let cut: Vec<_> = lines.iter().filter(|it| it.0 == "through").collect();
    assert!(cut.iter().all(|it| it.2 && it.1.len() > 2), "open or without area");
    let mut seen: Vec<String> = cut.iter().map(|it| format!("{:.4?}", it.1)).collect();
    let count = seen.len();
    seen.sort();
    seen.dedup();
    assert_eq!(seen.len(), count, "drawn twice");
    let parts: f64 = groups
        .iter()
        .flat_map(|group| {
            group
                .layout
                .sheets
                .iter()
                .flat_map(move |sheet| &sheet.parts)
                .map(move |laid| &group.parts[laid.part])
        })
        .map(|part| part.shape().square_inches() * 25.4 * 25.4)
        .sum();
    // Holes lie within an outline that is larger.
    let is_hole = |line: &[[f64; 2]]| {
        let larger = cut.iter().filter(|it| area(&it.1) > area(line) * (1.0 + 1e-9));
        larger.into_iter().any(|it| line.iter().all(|at| within(&it.1, *at)))
    };
    let signed: f64 =
        cut.iter().map(|it| if is_hole(&it.1) { -area(&it.1) } else { area(&it.1) }).sum();
    assert!((signed / parts - 1.0).abs() < 1e-6, "{signed} sq mm cut, the parts are {parts}");
    assert!(cut.iter().any(|it| is_hole(&it.1)), "the window");
}

/// Engraved while the sheet is whole, holes before the outlines round them.
#[test]
fn lines_are_engraved_first_and_outlines_cut_last() {
    let written = lines(&engraved(""));
    let place = |id: &str| written.iter().position(|it| it.0 == id).unwrap();
    assert!(place("scribe") < place("through"));
    let cut: Vec<f64> =
        written.iter().filter(|it| it.0 == "through").map(|it| area(&it.1)).collect();
    let window = 30.0 * 40.0 / 48.0 / 48.0 * 25.4 * 25.4;
    let hole = cut.iter().position(|it| (it / window - 1.0).abs() < 0.2).unwrap();
    let largest = cut.iter().copied().fold(0.0, f64::max);
    let outline = cut.iter().position(|it| (it - largest).abs() < 1e-9).unwrap();
    assert!(hole < outline);
}

/// A sheet comes with a piece to try it: slots in steps of 2 thou.
#[test]
fn every_stock_has_its_test_piece() {
    let made = engraved("");
    let written = files(made.seen(), Format::Svg).unwrap();
    let trials = written.iter().filter(|file| file.name.contains("test-piece")).count();
    assert_eq!(trials, made.plan.layout.as_ref().unwrap().sheets.len());
}

/// A stock that no laser may cut is left out and named; the others are written.
#[test]
fn what_no_laser_may_cut_is_left_out_and_named() {
    let text = "[job]\nname = \"test\"\nscale = \"1:48\"\n[materials]\nsheet = [\"styrene\"]\n\
                core = [\"wood\"]\n[[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n\
                [[layer]]\nname = \"sheet\"\ndoes = \"roof\"\nthick = \"0.020 in\"\n\
                [walls]\nlayers = [\"core\"]\n[cutting]\nmethod = \"laser\"\n\
                [[body]]\nname = \"main\"\nlength = \"240 in\"\ndepth = \"120 in\"\neave = \"100 in\"\n\
                roof = { kind = \"gable\", pitch = \"6:12\", sheet = \"sheet\" }\n";
    let made = Made::of(text);
    let written = files(made.seen(), Format::Svg).unwrap_or_else(|stop| panic!("{stop}"));
    assert!(written.iter().any(|file| file.name.contains("wood")));
    assert!(written.iter().all(|file| !file.name.contains("styrene")));
    let told = cautioned(made.seen());
    assert!(told.iter().any(|it| it.contains("styrene") && it.contains("is left out")), "{told:?}");
}

/// A machine that tells by colour: the person's own pens are in every group.
#[test]
fn the_pens_are_the_persons() {
    let mut made = engraved("");
    let own = "[[pen]]\ndoes = \"scribe\"\ncolour = \"#00ff00\"\nwidth = \"0.01 mm\"\n";
    made.catalog = made.catalog.with_own("fits.toml", own).unwrap();
    let written = files(made.seen(), Format::Svg).unwrap();
    let text = String::from_utf8(written[0].bytes.clone()).unwrap();
    let document = roxmltree::Document::parse(&text).unwrap();
    let pen = |id: &str| {
        let group = document.descendants().find(|it| it.attribute("id") == Some(id)).unwrap();
        (group.attribute("stroke").unwrap(), group.attribute("stroke-width").unwrap())
    };
    assert_eq!(pen("scribe"), ("#00ff00", "0.010"));
    assert_eq!(pen("through"), ("black", "0.350"));
    let bad = "[[pen]]\ndoes = \"scribe\"\ncolour = \"red; x\"\nwidth = \"0.01 mm\"\n";
    assert!(made.catalog.with_own("fits.toml", bad).is_err());
}
