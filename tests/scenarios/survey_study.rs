//! How well blunders are found and named, on made-up networks like those of
//! the built-in jobs. Printing tests, run by name:
//!
//! `cargo test --release --test scenarios survey_study -- --ignored --nocapture`
//!
//! Each network is drawn, read without blunder, and read again with one of
//! the twelve classic slips planted in one checked reading, of a size that
//! times the root of its redundancy is at least six of its sigmas.

mod draw;
mod plant;
mod speed;

use std::collections::BTreeMap;

use scantling::catalog::Catalog;
use scantling::survey::{self, SlipKind, Standing, Survey};

use draw::{Chance, Network};

const NETWORKS: u64 = 1000;

#[derive(Default)]
struct Tally {
    planted: u32,
    found: u32,
    named: u32,
    named_first: u32,
    more: u32,
}

#[test]
#[ignore = "a study that prints its table"]
fn a_thousand_networks() {
    let catalog = Catalog::built_in().expect("the shipped data reads");
    let mut by_kind: BTreeMap<SlipKind, Tally> = BTreeMap::new();
    let (mut false_alarms, mut within, mut dimensions) = (0_u32, 0_u32, 0_u32);
    let mut scatter = [(0.0, 0_usize); 2];
    for seed in 0..NETWORKS {
        let mut chance = Chance::new(seed);
        let network = Network::draw(&mut chance);
        let clean = survey::run(&network.job(), &catalog).value;
        false_alarms += u32::from(!clean.rejected.is_empty());
        let part = &mut scatter[usize::from(network.bay.is_some())];
        part.0 += clean.networks.iter().map(|network| network.chi_square_of_all).sum::<f64>();
        part.1 += clean.networks.iter().map(|network| network.degrees_of_all).sum::<usize>();
        for (name, truth) in &network.truth {
            let found = clean.dimension(name).and_then(|found| found.measured.clone());
            let Some(found) = found else { continue };
            dimensions += 1;
            let off = (found.value.in_inches() - truth).abs();
            within += u32::from(off <= 2.0 * found.sigma.in_inches());
        }
        let Some((kind, ids, with_slip)) = plant::any(&mut chance, &network, &clean) else {
            continue;
        };
        let survey = survey::run(&with_slip.job(), &catalog).value;
        let tally = by_kind.entry(kind).or_default();
        tally.planted += 1;
        judge(&survey, kind, &ids, tally);
    }
    print(&by_kind);
    for (what, (chi_square, degrees)) in ["measured", "counted"].iter().zip(scatter) {
        println!("{what}: chi-square over degrees {:.3}", chi_square / degrees as f64);
    }
    let share = |part: u32, of: u32| 100.0 * f64::from(part) / f64::from(of.max(1));
    println!(
        "clean networks that lost a reading: {:.1} percent",
        share(false_alarms, NETWORKS as u32)
    );
    println!(
        "coverage of k = 2 on clean ones: {:.2} percent of {dimensions}",
        share(within, dimensions)
    );
}

/// Whether the planted slip was found, alone or as one of a pair, and named.
fn judge(survey: &Survey, kind: SlipKind, ids: &[String], tally: &mut Tally) {
    let hit = survey.rejected.iter().find(|rejected| {
        ids.contains(&rejected.id) || rejected.alike.iter().any(|other| ids.contains(other))
    });
    tally.more += u32::from(survey.rejected.len() > 1);
    let Some(hit) = hit else { return };
    tally.found += 1;
    let slip = hit.slip.as_ref();
    tally.named_first += u32::from(slip.is_some_and(|slip| slip.kind == kind));
    tally.named += u32::from(slip.is_some_and(|slip| slip.kind == kind || slip.or.contains(&kind)));
    let left_out = survey.readings.iter().filter(|found| found.standing == Standing::LeftOut);
    assert_eq!(left_out.count(), 0, "every reading says something");
}

fn print(by_kind: &BTreeMap<SlipKind, Tally>) {
    println!("{:<42} planted  found  named  (first)  others set aside too", "slip");
    let mut all = Tally::default();
    for (kind, tally) in by_kind {
        line(kind.name(), tally);
        all.planted += tally.planted;
        all.found += tally.found;
        all.named += tally.named;
        all.named_first += tally.named_first;
        all.more += tally.more;
    }
    line("all", &all);
    let both = 100.0 * f64::from(all.named) / f64::from(all.planted.max(1));
    println!("found and rightly named: {both:.1} percent");
}

fn line(name: &str, tally: &Tally) {
    let Tally { planted, found, named, named_first, more } = tally;
    println!("{name:<42} {planted:>7} {found:>6} {named:>6} {named_first:>8} {more:>6}");
}
