//! A building held against its track: forty pieces, two hundred timbers.

use std::fmt::Write as _;

use criterion::{Criterion, criterion_group, criterion_main};
use scantling::clearance::{self, Checked, Given, Held};
use scantling::plan;
use scantling_benches::{catalog, document};

/// A long shed with posts and braces beside a winding track, so far from it.
fn job(off: f64) -> String {
    let mut text = "[job]\nname = \"shed\"\nscale = \"1:87.1\"\n\
        [[body]]\nname = \"main\"\ndepth = \"30 ft\"\neave = \"16 ft\"\n\
        [[wall]]\nof = \"main/front\"\nrow = [{ plain = \"wall\", width = \"700 ft\" }]\n\
        [track]\nat = [\"-20 in\", \"-OFF in\"]\ncars = [\"40 ft box car\"]\nrules = [\"WAC 480-60\"]\n"
        .replace("OFF", &off.to_string());
    for n in 0..10 {
        let turn = if n % 2 == 0 { ["left", "right"] } else { ["right", "left"] };
        let _ = write!(
            text,
            "[[track.piece]]\nstraight = \"4 in\"\n\
             [[track.piece]]\neasement = \"4 in\"\nto = \"60 in\"\nturn = \"{0}\"\n\
             [[track.piece]]\neasement = \"4 in\"\nto = \"60 in\"\nturn = \"{1}\"\n\
             [[track.piece]]\neasement = \"4 in\"\n",
            turn[0], turn[1]
        );
    }
    text.push_str(
        "[[member]]\nname = \"post\"\nlumber = \"8x8\"\nlength = \"14 ft\"\ncount = 100\n\
         stands = { out = \"8 ft\" }\n\
         [[member]]\nname = \"brace\"\nlumber = \"4x4\"\nlegs = [\"3 ft\", \"3 ft\"]\ncount = 100\n\
         stands = { out = \"8 ft\", foot = \"11 ft\", runs = \"out\" }\n",
    );
    text
}

fn held(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("clearance");
    group.sample_size(10);
    for (name, off) in [("most short", 2.4), ("most clear", 4.0)] {
        let document = document("shed", &job(off), &catalog);
        let job = document.job();
        let plan = plan::plan(job, &catalog);
        let given = Given {
            job,
            catalog: &catalog,
            compress: plan.compress.as_ref().expect("built"),
            building: plan.building.as_ref().expect("raised"),
            scale: plan.scale.as_ref().expect("a scale"),
        };
        let found = clearance::run(given).expect("it goes on").value.expect("a track");
        let is_short = |it: &&Checked| it.held.iter().flatten().any(Held::is_short);
        let short = found.checked.iter().filter(is_short).count();
        println!("{} things, {short} of them short", found.checked.len());
        let name = format!("40 pieces, 200 timbers, {name}");
        group.bench_function(name, |b| b.iter(|| clearance::run(given)));
    }
    group.finish();
}

criterion_group!(benches, held);
criterion_main!(benches);
