//! The take-off of made-up sheds, and everything that follows from one changed
//! dimension of theirs.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use scantling::catalog::Catalog;
use scantling::job::Job;
use scantling::plan::{Plan, plan};
use scantling::takeoff;
use scantling_benches::{catalog, document};

/// A shed of so many bays, board and batten all round.
fn shed(bays: u32, bay: &str) -> String {
    format!(
        "[job]\nname = \"shed\"\nscale = \"1:87.1\"\n\
         [[body]]\nname = \"main\"\ndepth = \"40 ft\"\neave = \"16 ft\"\n\
         [body.roof]\nkind = \"gable\"\npitch = \"6:12\"\neave = \"18 in\"\n\
         rake = \"12 in\"\ncladding = \"shingles\"\nrafters = \"24 in\"\n\
         [[opening]]\nname = \"door\"\nwhat = \"door\"\nwidth = \"8 ft\"\nheight = \"9 ft\"\ntrim = \"5 in\"\n\
         [[opening]]\nname = \"window\"\nwhat = \"window\"\nwidth = \"3 ft\"\nheight = \"5 ft\"\n\
         sill = \"4 ft\"\ntrim = \"5 in\"\n\
         [[cladding]]\nname = \"boards\"\nkind = \"board-and-batten\"\nunit = \"12 in\"\nbatten = \"3 in\"\n\
         [[cladding]]\nname = \"shingles\"\nkind = \"shingle\"\nexposure = \"5 in\"\n\
         [[layer]]\nname = \"core\"\nthick = \"1/16 in\"\n\
         [[wall]]\nof = \"main/front\"\nlayers = [\"boards\", \"core\"]\n\
         row = [{{ bays = \"bay\", width = \"{bay}\", count = {bays}, cycle = [\"window\", \"door\"] }}]\n"
    )
}

fn parts(plan: &Plan) -> u32 {
    plan.takeoff.as_ref().map_or(0, |takeoff| takeoff.parts.iter().map(|part| part.count).sum())
}

fn take_off(catalog: &Catalog, job: &Job, planned: &Plan) -> usize {
    let (Ok(compress), Ok(building), Ok(stock), Ok(scale)) =
        (&planned.compress, &planned.building, &planned.stock, &planned.scale)
    else {
        panic!("the shed stands");
    };
    let both = (&compress.built, &**building);
    let out = takeoff::run(job, catalog, &planned.survey, both, stock, scale);
    out.value.parts.len()
}

fn sheds(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("takeoff");
    group.sample_size(10);
    for bays in [9, 100] {
        let before = document("shed", &shed(bays, "14 ft"), &catalog);
        let after = document("shed", &shed(bays, "13 ft"), &catalog);
        let planned = plan(before.job(), &catalog);
        let name = format!("{} parts", parts(&planned));
        group.bench_function(BenchmarkId::new("parts alone", &name), |b| {
            b.iter(|| take_off(&catalog, before.job(), &planned));
        });
        group.bench_function(BenchmarkId::new("one dimension changed", &name), |b| {
            let mut turn = false;
            b.iter(|| {
                turn = !turn;
                plan(if turn { after.job() } else { before.job() }, &catalog)
            });
        });
    }
    group.finish();
}

/// From a shed of one bay to one as long as a street.
fn growth(c: &mut Criterion) {
    let catalog = catalog();
    let mut group = c.benchmark_group("growth");
    group.sample_size(10);
    for bays in [1, 3, 9, 30, 100] {
        let job = document("shed", &shed(bays, "14 ft"), &catalog);
        let count = parts(&plan(job.job(), &catalog));
        group.throughput(Throughput::Elements(u64::from(count)));
        group.bench_function(BenchmarkId::new("job to parts and layout", count), |b| {
            b.iter(|| plan(job.job(), &catalog));
        });
    }
    group.finish();
}

criterion_group!(benches, sheds, growth);
criterion_main!(benches);
