//! An order of the unknowns that keeps the triangle narrow.

use std::collections::VecDeque;

use super::Terms;

/// The place of each unknown in the order of Cuthill and McKee (1969), turned
/// round: neighbours, which share a row, get places close together.
pub(super) fn places(unknowns: usize, rows: &[Terms]) -> Vec<usize> {
    let neighbours = neighbours(unknowns, rows);
    let mut order: Vec<usize> = Vec::with_capacity(unknowns);
    let mut seen = vec![false; unknowns];
    let mut starts: Vec<usize> = (0..unknowns).collect();
    starts.sort_by_key(|at| neighbours[*at].len());
    for start in starts {
        if !seen[start] {
            let far = walk(start, &neighbours, &mut seen.clone()).last().copied();
            order.extend(walk(far.unwrap_or(start), &neighbours, &mut seen));
        }
    }
    let mut places = vec![0; unknowns];
    for (place, at) in order.iter().rev().enumerate() {
        places[*at] = place;
    }
    places
}

/// Everything that hangs together with `start`, nearest first.
fn walk(start: usize, neighbours: &[Vec<usize>], seen: &mut [bool]) -> Vec<usize> {
    let mut order = Vec::new();
    let mut queue = VecDeque::from([start]);
    seen[start] = true;
    while let Some(at) = queue.pop_front() {
        order.push(at);
        let mut next: Vec<usize> =
            neighbours[at].iter().copied().filter(|other| !seen[*other]).collect();
        next.sort_by_key(|other| neighbours[*other].len());
        for other in next {
            seen[other] = true;
            queue.push_back(other);
        }
    }
    order
}

/// Who shares a row with whom. A row of many unknowns is taken as a ring: that
/// is enough to keep them together and does not grow with the square.
fn neighbours(unknowns: usize, rows: &[Terms]) -> Vec<Vec<usize>> {
    let mut neighbours: Vec<Vec<usize>> = vec![Vec::new(); unknowns];
    let mut join = |a: usize, b: usize| {
        if a != b {
            neighbours[a].push(b);
            neighbours[b].push(a);
        }
    };
    for row in rows {
        if row.len() <= 8 {
            for (index, (a, _)) in row.iter().enumerate() {
                row[index + 1..].iter().for_each(|(b, _)| join(*a, *b));
            }
        } else {
            row.windows(2).for_each(|pair| join(pair[0].0, pair[1].0));
        }
    }
    for list in &mut neighbours {
        list.sort_unstable();
        list.dedup();
    }
    neighbours
}
