//! The first plans: sixteen starts, four orders by four ways.

use std::cmp::Reverse;

use super::fill::{Filler, Stop, Way, lay};
use super::free::Rule;
use super::split::First;
use super::work::{Layout, Work};

/// What an order goes by, from width and height.
type Measure = fn(i64, i64) -> (i64, i64);

/// The four orders, the largest first by each measure.
pub(super) fn orders(work: &Work) -> Vec<Vec<usize>> {
    let measures: [Measure; 4] =
        [|w, h| (w * h, w.max(h)), |w, h| (h, w), |w, h| (w, h), |w, h| (w.max(h), w.min(h))];
    let order_by = |measure: &Measure| {
        let mut order: Vec<usize> = (0..work.items.len()).collect();
        order.sort_by_key(|&index| {
            let item = &work.items[index];
            (Reverse(measure(item.width, item.height)), item.row)
        });
        order
    };
    measures.iter().map(order_by).collect()
}

fn ways(work: &Work) -> [Way; 4] {
    let many = work.items.len() > 400;
    let way = |rule, first| Way { rule, first: (work.knife.is_some()).then_some(first) };
    let tested = |rule, first| {
        let knife_many = work.knife.is_some() && many;
        Way { rule, first: knife_many.then_some(first) }
    };
    [
        way(Rule::ShortSide, First::LargePiece),
        way(Rule::Area, First::Rows),
        tested(Rule::Low, First::Columns),
        tested(Rule::Left, First::LikePieces),
    ]
}

/// Hands every start to `take`, until it says stop.
pub(super) fn starts(
    work: &Work,
    stop: Stop<'_>,
    go_on: &mut dyn FnMut() -> bool,
    take: &mut dyn FnMut(Layout) -> bool,
) {
    // Nothing breaks the first plan off, so that there is one.
    let mut filler = Filler::default();
    let orders = orders(work);
    let single = work.kinds.len() == 1;
    for way in ways(work) {
        for order in &orders {
            let wishes = (0..work.kinds.len()).filter(|_| !single).map(Some);
            for only in std::iter::once(None).chain(wishes) {
                let Some(layout) = lay(work, &mut filler, way, order, only, go_on) else { return };
                if !take(layout) {
                    return;
                }
                filler.stop_when(stop);
            }
        }
    }
}
