//! Random buildings that the trade could build, judged apart from the program's
//! own arithmetic.
//!
//! Some in every run; as many as `SCANTLING_BUILDINGS` says otherwise.
//! What is wrong is told with the number of the building: `SCANTLING_BUILDING=17`
//! prints that one's job and judges it alone.

mod house;
mod solids;

use std::collections::BTreeMap;

use house::{House, How, other_hand};
use scantling::building::{self, Building, Given, Role, Scheme, Why};
use scantling::catalog::Catalog;
use scantling::finding::{Finding, Outcome, Stop};
use scantling::job::Job;
use scantling::job::document::Document;
use scantling::job::wall::Corners;
use scantling::takeoff::{self, Kind, Part, Takeoff};
use scantling::{compress, elevation, stock, survey};

/// How many are judged in every run.
const USUAL: u64 = 60;

/// Which are judged.
fn numbers(usual: u64) -> Vec<u64> {
    let said = |name: &str| std::env::var(name).ok().and_then(|it| it.parse::<u64>().ok());
    match said("SCANTLING_BUILDING") {
        Some(one) => vec![one],
        None => (0..said("SCANTLING_BUILDINGS").unwrap_or(usual)).collect(),
    }
}

/// A building with its parts: the stages that lead to them and no other.
struct Parts {
    building: Building,
    told: Vec<Finding>,
    takeoff: Takeoff,
}

struct Raised {
    house: House,
    parts: Parts,
}

fn parts(job: &Job, catalog: &Catalog) -> Result<Parts, Stop> {
    let survey = survey::run(job, catalog).value;
    let scale = catalog.scales.find(&job.about.scale)?;
    let faces = elevation::lay_out(job, &survey)?.value;
    let scheme = Scheme::of(job, &survey, &faces).value;
    let built = compress::run(job, catalog, (&faces, &scheme), &scale)?.value.built;
    let era = stock::catalog::era(job, catalog);
    let actual = |nominal: &str| stock::catalog::actual(catalog, &era, nominal);
    let offers = stock::catalog::offers(catalog);
    let stock = stock::run(job, &survey, &offers, &actual, &scale).value;
    let given = Given {
        job,
        catalog,
        survey: &survey,
        built: &built,
        stock: &stock,
        scale: &scale,
        scheme: &scheme,
    };
    let Outcome { value: building, findings: told } = building::raise(given);
    let both = (&built, &building);
    let takeoff = takeoff::run(job, catalog, &survey, both, &stock, &scale).value;
    Ok(Parts { building, told, takeoff })
}

fn raised(house: &House, how: How, catalog: &Catalog) -> Parts {
    let text = house.text(how);
    if std::env::var("SCANTLING_BUILDING").is_ok() {
        println!("{text}");
    }
    let document = Document::read("random", &text, catalog)
        .unwrap_or_else(|stop| panic!("building {}: {stop}\n{text}", house.number));
    parts(document.job(), catalog)
        .unwrap_or_else(|stop| panic!("building {}: {stop}", house.number))
}

impl Raised {
    fn of(number: u64, catalog: &Catalog) -> Self {
        let house = House::drawn(number);
        let parts = raised(&house, How::AS_IT_IS, catalog);
        Self { house, parts }
    }

    fn building(&self) -> &Building {
        &self.parts.building
    }

    fn takeoff(&self) -> &Takeoff {
        &self.parts.takeoff
    }

    /// A thou on the model at full size.
    fn thou(&self) -> f64 {
        self.house.ratio / 1000.0
    }
}

/// What is wrong, by building; the first of each kind is enough to look at.
#[derive(Default)]
struct Wrong(Vec<(u64, String)>, usize);

impl Wrong {
    fn tell(&mut self, number: u64, what: impl Into<String>) {
        self.0.push((number, what.into()));
    }

    /// Tells each kind of trouble once, with how often it comes; whether there
    /// is none.
    fn held(&self, what: &str, count: usize) -> bool {
        let mut seen: Vec<u64> = self.0.iter().map(|it| it.0).collect();
        seen.dedup();
        println!("{what}: {count} buildings, {} of them wrong", seen.len());
        let mut kinds: BTreeMap<String, (usize, u64, &str)> = BTreeMap::new();
        for (number, what) in &self.0 {
            let kind: String = what.chars().filter(|c| !c.is_ascii_digit()).collect();
            kinds.entry(kind).or_insert((0, *number, what)).0 += 1;
        }
        for (count, number, what) in kinds.values() {
            println!("  {count} such as building {number}: {what}");
        }
        if self.1 > 0 {
            println!("  {} in all, {} of them wrong", self.1, self.0.len());
        }
        // Of many, one in fifty may be left that no rule names yet.
        self.0.len() * 50 <= self.1
    }
}

type Judge = fn(&Raised, &Catalog, &mut Wrong);

/// Every judge on every building.
#[test]
fn random_buildings_hold() {
    const JUDGES: [(&str, Judge); 8] = [
        ("sizes", sizes),
        ("layers", layers),
        ("boxes", boxes),
        ("solids", overlaps),
        ("reasons", reasons),
        ("order", order),
        ("mirror", mirror),
        ("scale", scale),
    ];
    let catalog = Catalog::built_in().expect("the shipped data");
    let mut wrong = JUDGES.map(|_| Wrong::default());
    let numbers = numbers(USUAL);
    let mut clashing = 0;
    for number in &numbers {
        let raised = Raised::of(*number, &catalog);
        clashing += usize::from(raised.parts.told.iter().any(|it| it.message.contains("into")));
        for ((_, judge), wrong) in JUDGES.iter().zip(&mut wrong) {
            judge(&raised, &catalog, wrong);
        }
    }
    println!("{clashing} of {} told that roofs run into bodies", numbers.len());
    let all = JUDGES.iter().zip(wrong);
    let held: Vec<bool> = all.map(|((what, _), it)| it.held(what, numbers.len())).collect();
    assert!(held.iter().all(|held| *held), "some judges found what is wrong");
}

/// Nothing is negative, endless or larger than what it lies on.
fn sizes(it: &Raised, _: &Catalog, wrong: &mut Wrong) {
    let number = it.house.number;
    let slack = it.thou();
    for part in &it.takeoff().parts {
        let sizes = [part.length.in_inches(), part.width.in_inches()];
        if sizes.iter().any(|size| !size.is_finite() || *size < 0.0) || part.count == 0 {
            wrong.tell(number, format!("{} x{} is {sizes:?}", part.label, part.count));
        }
        if sizes[0] <= 0.0 {
            wrong.tell(number, format!("{} has no length", part.label));
        }
        let Some(wall) = it.building().walls.iter().find(|wall| wall.name == part.face) else {
            continue;
        };
        if !covers(part.kind) && part.kind != Kind::Core {
            continue;
        }
        let (low, high) = part.outline().bounds();
        let (wide, tall) = ((high.x - low.x).in_inches(), (high.y - low.y).in_inches());
        // A layer at an annex's end runs on to the bare core.
        let beyond = wall
            .layers
            .iter()
            .fold(0.0_f64, |most, layer| most.max(layer.length().length.in_inches()));
        let most = wall.width.in_inches().max(beyond) + slack;
        let rise = wall.height().in_inches()
            - wall.foot.iter().map(|it| it.1.in_inches()).fold(f64::INFINITY, f64::min);
        // A lean-to's end rises on to that core too.
        let rise = rise + (beyond - wall.width.in_inches()).max(0.0) * 1.5 + slack;
        if wide > most || tall > rise {
            wrong.tell(
                number,
                format!(
                    "{} is {wide:.2} x {tall:.2} on a wall of {most:.2} x {rise:.2}",
                    part.label
                ),
            );
        }
    }
}

/// Parts that fill a layer of cladding.
fn covers(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Board | Kind::Scribed | Kind::Clapboard | Kind::Iron | Kind::Brick | Kind::Shingle
    )
}

/// Whether pieces of a kind lap, so that the part that shows is counted.
fn laps(kind: Kind) -> bool {
    matches!(kind, Kind::Clapboard | Kind::Iron | Kind::Shingle)
}

/// Parts, holes and bare patches make up each layer.
fn layers(it: &Raised, _: &Catalog, wrong: &mut Wrong) {
    for wall in &it.building().walls {
        for layer in &wall.layers {
            let slabs = solids::slabs(wall, layer);
            let own: f64 = slabs
                .iter()
                .map(|([a, b], [low, high])| (b - a) * (high[0] + high[1] - low[0] - low[1]) / 2.0)
                .sum();
            let holes: f64 = layer
                .holes
                .iter()
                .map(|hole| (hole.hole.width * hole.hole.height).in_square_inches())
                .sum();
            let clad = layer.role != Role::Core && !layer.claddings.is_empty();
            let of = |part: &&Part| {
                part.face == wall.name
                    && if clad {
                        covers(part.kind)
                    } else {
                        part.kind == Kind::Core && part.section == layer.id.layer
                    }
            };
            let area = |part: &Part| {
                // A board that a hole parts is cut from one stick, as one.
                let apart = part.shape.is_none() && part.note.contains("round an opening");
                let one = if laps(part.kind) || apart {
                    part.covers.in_square_inches()
                } else {
                    part.outline().square_inches()
                };
                one * f64::from(part.count)
            };
            let parts: f64 = it.takeoff().parts.iter().filter(of).map(area).sum();
            // A thou along every edge of the layer.
            let around: f64 = slabs
                .iter()
                .map(|([a, b], [l, h])| 2.0 * (b - a) + h[0] - l[0] + h[1] - l[1])
                .sum();
            let off = parts + holes - own;
            // Gaps of laid boards are part of the layer.
            if off.abs() > around * it.thou() {
                if std::env::var("SCANTLING_BUILDING").is_ok() {
                    for part in it.takeoff().parts.iter().filter(of) {
                        println!(
                            "{} x{}: {:.2} by {:.2}, outline {:.2}, covers {:.2}, {}",
                            part.label,
                            part.count,
                            part.length.in_inches(),
                            part.width.in_inches(),
                            part.outline().square_inches(),
                            part.covers.in_square_inches(),
                            part.note
                        );
                    }
                }
                wrong.tell(
                        it.house.number,
                        format!("{}: parts {parts:.1} and holes {holes:.1} are not {own:.1}, by {off:.2} sq in ({})", layer.id, it.house.cladding),
                    );
            }
        }
    }
}

/// Corners close and diagonals agree, to a thou.
fn boxes(it: &Raised, _: &Catalog, wrong: &mut Wrong) {
    corners_close(it, wrong);
    diagonals_agree(it, wrong);
}

fn corners_close(it: &Raised, wrong: &mut Wrong) {
    let number = it.house.number;
    let building = it.building();
    for body in &building.bodies {
        let walls: Vec<_> = building.walls_of(&body.name).collect();
        for corner in building.corners.iter().filter(|it| it.id.body == body.name) {
            let find = |side| walls.iter().find(|wall| wall.id.side == side);
            let (Some(along), Some(end)) = (find(corner.id.along), find(corner.id.end)) else {
                continue;
            };
            // What each wall leaves free at the corner, layer by layer.
            for (wall, neighbour) in [(along, end), (end, along)] {
                let at_left = wall.id.side.at_left() == neighbour.id.side;
                let thick = |cladding: bool| -> f64 {
                    neighbour
                        .layers
                        .iter()
                        .filter(|it| (it.role == Role::Cladding) == cladding)
                        .map(|it| it.full)
                        .sum()
                };
                for layer in &wall.layers {
                    let free = if at_left {
                        layer.left.length.in_inches()
                    } else {
                        (wall.width - layer.right.length).in_inches()
                    };
                    let clad = layer.role == Role::Cladding;
                    let through = if clad { corner.cladding } else { corner.core } == wall.id.side;
                    let wanted = match corner.joint {
                        Corners::Post => {
                            corner.post.as_ref().map_or(0.0, |it| it.length.in_inches())
                                * it.house.ratio
                        }
                        _ if clad && through => 0.0,
                        _ if clad => thick(true),
                        Corners::Mitre => thick(true),
                        Corners::Butt if through => thick(true),
                        Corners::Butt => thick(true) + thick(false),
                    };
                    if (free - wanted).abs() > it.thou() {
                        wrong.tell(
                            number,
                            format!(
                                "{} leaves {free:.3} at {}, not {wanted:.3}",
                                layer.id, corner.id
                            ),
                        );
                    }
                }
            }
        }
    }
}

fn diagonals_agree(it: &Raised, wrong: &mut Wrong) {
    let number = it.house.number;
    let building = it.building();
    for body in &building.bodies {
        let walls: Vec<_> = building.walls_of(&body.name).collect();
        let Some(square) = it.takeoff().boxes.iter().find(|it| it.name == body.name) else {
            continue;
        };
        let clad = |side: &str| -> f64 {
            let wall = walls.iter().find(|wall| wall.id.side.word() == side);
            let layers = wall.into_iter().flat_map(|wall| &wall.layers);
            layers.filter(|it| it.role == Role::Cladding).map(|it| it.full).sum()
        };
        let [length, depth] = body.plan();
        // An annex's box ends at the bare core of the wall behind it.
        let bare: f64 = building
            .walls
            .iter()
            .flat_map(|wall| {
                let behind = wall.behind.iter().find(|it| it.body == body.name && it.bare);
                behind.map(|_| {
                    wall.layers
                        .iter()
                        .filter(|it| it.role == Role::Cladding)
                        .map(|it| it.full)
                        .sum::<f64>()
                })
            })
            .sum();
        let long = length - clad("left") - clad("right");
        let short = depth - clad("front") - clad("back") + bare;
        let wanted = long.hypot(short) / it.house.ratio;
        let off = (square.diagonal.in_inches() - wanted).abs();
        if off > 0.001 {
            wrong.tell(
                number,
                format!(
                    "diagonal of {} is {}, not {wanted}",
                    body.name,
                    square.diagonal.in_inches()
                ),
            );
        }
    }
}

/// Whether the program told that two bodies run into each other.
fn told(findings: &[Finding], a: &str, b: &str) -> bool {
    let body = |name: &str| name.split('/').next().unwrap_or_default().to_owned();
    let (a, b) = (body(a), body(b));
    let names =
        |it: &Finding, name: &str| it.message.split([' ', ',', ':']).any(|word| word == name);
    a != b && findings.iter().any(|it| names(it, &a) && names(it, &b))
}

/// No two solids share space unless they are joined, or the program told that
/// the bodies cannot stand so.
fn overlaps(it: &Raised, _: &Catalog, wrong: &mut Wrong) {
    let building = it.building();
    let meetings = building.meetings();
    for (a, b, depth) in solids::overlaps(building, it.thou()) {
        let shared =
            meetings.iter().find(|it| (it.a == a && it.b == b) || (it.a == b && it.b == a));
        let on_model = depth / it.house.ratio * 1000.0;
        if told(&it.parts.told, &a, &b) {
            continue;
        }
        match shared {
            None => {
                wrong.tell(it.house.number, format!("{a} and {b} overlap by {on_model:.1} thou"));
            }
            Some(meeting) if depth > meeting.most + it.thou() => wrong.tell(
                it.house.number,
                format!(
                    "{a} and {b} overlap by {on_model:.1} thou, more than {:.1}",
                    meeting.most / it.house.ratio * 1000.0
                ),
            ),
            Some(_) => {}
        }
    }
}

/// Parts by face and kind: sizes on the model, every piece by itself.
fn listed(
    plan: &Parts,
    name: impl Fn(&str) -> String,
    leave: impl Fn(Kind) -> bool,
) -> BTreeMap<String, Vec<[f64; 2]>> {
    let mut listed: BTreeMap<String, Vec<[f64; 2]>> = BTreeMap::new();
    for part in plan.takeoff.parts.iter().filter(|part| !leave(part.kind)) {
        let of = format!("{}/{}", name(&part.face), part.kind.word());
        let sizes = [part.model_length.in_inches(), part.model_width.in_inches()];
        let into = listed.entry(of).or_default();
        into.extend(std::iter::repeat_n(sizes, part.count as usize));
    }
    for sizes in listed.values_mut() {
        sizes.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    }
    listed
}

type Listed = BTreeMap<String, Vec<[f64; 2]>>;

fn same(number: u64, wrong: &mut Wrong, a: &Listed, b: &Listed, times: f64, how: &str) {
    let groups: std::collections::BTreeSet<&String> = a.keys().chain(b.keys()).collect();
    for group in groups {
        let (left, right) = (a.get(group), b.get(group));
        let (Some(left), Some(right)) = (left, right) else {
            wrong.tell(
                number,
                format!("{how}: {group} only {}", if left.is_some() { "before" } else { "after" }),
            );
            continue;
        };
        // As sets: each has one like it on the other side.
        let slack = 0.0005 * times.max(1.0);
        let mut rest: Vec<[f64; 2]> = right.clone();
        let lost = left.iter().filter(|it| {
            // The nearest: sizes may lie less than the slack apart.
            let off = |at: &usize| {
                (0..2).map(|n| (it[n] * times - rest[*at][n]).abs()).fold(0.0, f64::max)
            };
            let near = (0..rest.len()).filter(|at| off(at) < slack);
            let like = near.min_by(|a, b| off(a).total_cmp(&off(b)));
            like.map(|at| rest.swap_remove(at)).is_none()
        });
        let lost: Vec<&[f64; 2]> = lost.collect();
        // Level runs are cut from sticks of the shop, which do not grow: all of
        // them together do.
        let all = |of: &[[f64; 2]]| of.iter().map(|it| it[0] * it[1]).sum::<f64>();
        let share = all(right) / (all(left) * times * times);
        if (times - 1.0).abs() > 1e-9 && (share - 1.0).abs() < 1e-3 {
            continue;
        }
        if left.len() != right.len() || !lost.is_empty() {
            wrong.tell(
                number,
                format!("{how}: {group}: {} pieces and {}, {} not found again, such as {:?}; left over {:?}", left.len(), right.len(), lost.len(), lost.first(), rest.first()),
            );
        }
    }
}

/// The order of tables means nothing.
fn order(it: &Raised, catalog: &Catalog, wrong: &mut Wrong) {
    let other = raised(&it.house, How { swapped: true, ..How::AS_IT_IS }, catalog);
    let names = |name: &str| name.to_owned();
    let none = |_| false;
    let (a, b) = (listed(&it.parts, names, none), listed(&other, names, none));
    same(it.house.number, wrong, &a, &b, 1.0, "swapped");
}

/// Left and right exchanged in the name of a face.
fn mirrored(face: &str) -> String {
    let word = |it: &str| match it.split_once('-') {
        Some((head, rest)) => format!("{}-{rest}", other_hand(head)),
        None => other_hand(it).to_owned(),
    };
    face.split('/').map(word).collect::<Vec<_>>().join("/")
}

/// Boards and engraved lines are laid from the left corner, and splices, their
/// doublers and the uprights beside them follow; what is laid so is not the same
/// in the mirror.
fn laid_from_a_side(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Board | Kind::Batten | Kind::Scribed | Kind::Iron | Kind::Doubler | Kind::Bracing
    )
}

/// The mirror has the same parts.
fn mirror(it: &Raised, catalog: &Catalog, wrong: &mut Wrong) {
    let other = raised(&it.house, How { mirrored: true, ..How::AS_IT_IS }, catalog);
    let a = listed(&it.parts, mirrored, laid_from_a_side);
    let b = listed(&other, |name| name.to_owned(), laid_from_a_side);
    same(it.house.number, wrong, &a, &b, 1.0, "mirrored");
}

/// Fits of castings and floors, the greatest gap between uprights, the widths of strips that are left
/// out and the cutting of stock are lengths of the bench: they do not grow with
/// the model.
fn of_the_bench(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Bracing
            | Kind::Doubler
            | Kind::Floor
            | Kind::BoxSide
            | Kind::BoxEnd
            | Kind::Ledger
            | Kind::CornerBlock
    )
}

/// Another scale has the same parts in proportion.
fn scale(it: &Raised, catalog: &Catalog, wrong: &mut Wrong) {
    let times = 1.25;
    let mut house = it.house.clone();
    house.casting = false;
    house.bodies.iter_mut().for_each(|body| body.roof.lifts = false);
    let one = raised(&house, How::AS_IT_IS, catalog);
    let other = raised(&house, How { times, ..How::AS_IT_IS }, catalog);
    let names = |name: &str| name.to_owned();
    let (mut a, mut b) = (listed(&one, names, of_the_bench), listed(&other, names, of_the_bench));
    // The shortest battens left out are of one length at every scale.
    for (sizes, times) in
        a.values_mut().map(|it| (it, times)).chain(b.values_mut().map(|it| (it, 1.0)))
    {
        sizes.retain(|[long, _]| long * times > 0.0625 * 1.25 + 1e-3);
    }
    a.retain(|_, sizes| !sizes.is_empty());
    b.retain(|_, sizes| !sizes.is_empty());
    same(it.house.number, wrong, &a, &b, times, "scaled");
}

/// Ends of chains that say nothing.
fn bare(why: &Why) -> bool {
    matches!(why, Why::Default(said) if said.contains("laid out") || *said == "as it lies")
}

fn chains(parts: &[Part], mut tell: impl FnMut(String)) -> (usize, usize) {
    let (mut all, mut whole) = (0, 0);
    for part in parts {
        let sizes = [(&part.why[0], part.length), (&part.why[1], part.width)];
        for (why, size) in sizes {
            all += 1;
            let again = why.again();
            let mut sound = (again - size.in_inches()).abs() < 1e-6;
            if !sound {
                tell(format!(
                    "{}: {} comes to {again}, not {}",
                    part.label,
                    why.what,
                    size.in_inches()
                ));
            }
            why.ends(&mut |end| {
                if bare(&end.why) {
                    sound = false;
                    tell(format!("{} ends in `{}`", part.label, end.what));
                }
            });
            whole += usize::from(sound);
        }
    }
    (all, whole)
}

/// Chains of reasons end in reasons and come to the size.
fn reasons(it: &Raised, _: &Catalog, wrong: &mut Wrong) {
    let number = it.house.number;
    let parts = &it.takeoff().parts;
    for part in parts {
        for (why, size) in part.why.iter().zip([part.length, part.width]) {
            let (again, size) = (why.again(), size.in_inches());
            assert!((again - size).abs() < 1e-6, "building {number}: {} is {again}", part.label);
        }
    }
    let (all, _) = chains(parts, |what| wrong.tell(number, what));
    wrong.1 += all;
}

#[test]
fn chains_of_the_built_in_jobs_and_worked_buildings_hold() {
    let catalog = Catalog::built_in().expect("the shipped data");
    let mut jobs: Vec<(String, String)> = scantling::job::demo::DEMOS
        .iter()
        .map(|demo| (demo.name.to_owned(), demo.text.to_owned()))
        .collect();
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/scenarios/worked");
    for name in ["worked-1", "worked-2"] {
        let text = std::fs::read_to_string(folder.join(format!("{name}.toml"))).expect("a job");
        jobs.push((name.to_owned(), text));
    }
    let mut wrong = Vec::new();
    for (name, text) in jobs {
        let document = Document::read(&name, &text, &catalog).expect("it reads");
        // Worked buildings are built as described, whatever their place.
        let mut job = document.job().clone();
        if name.starts_with("worked") {
            job.space = None;
        }
        let takeoff = parts(&job, &catalog).expect("parts").takeoff;
        let (all, whole) = chains(&takeoff.parts, |what| wrong.push(format!("{name}: {what}")));
        println!("{name}: {whole} of {all} sizes of {} parts", takeoff.parts.len());
    }
    assert!(wrong.is_empty(), "{} ends\n{}", wrong.len(), wrong.join("\n"));
}
