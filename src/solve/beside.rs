//! Work that does not need each other, done beside each other.
//!
//! What comes back does not depend on how many processors there are.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{available_parallelism, scope};

/// Does two things.
pub fn both<A: Send, B>(a: impl FnOnce() -> A + Send, b: impl FnOnce() -> B) -> (A, B) {
    scope(|scope| {
        let a = scope.spawn(a);
        let b = b();
        (a.join().unwrap_or_else(|panic| resume_unwind(panic)), b)
    })
}

/// Does one thing to each item, whoever is free taking the next; in their order.
pub fn each<T: Sync, R: Send>(items: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = available_parallelism().map_or(1, usize::from).min(items.len());
    let next = AtomicUsize::new(0);
    let work = || {
        let take = || {
            let at = next.fetch_add(1, Ordering::Relaxed);
            Some((at, of(items.get(at)?)))
        };
        std::iter::from_fn(take).collect::<Vec<(usize, R)>>()
    };
    let mut done = scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut done = work();
        for other in others {
            done.extend(other.join().unwrap_or_else(|panic| resume_unwind(panic)));
        }
        done
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, result)| result).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_keeps_the_order_and_none_is_done_twice() {
        let count = AtomicUsize::new(0);
        let items: Vec<u64> = (0..1000).collect();
        let doubled = each(&items, |item| {
            count.fetch_add(1, Ordering::Relaxed);
            item * 2
        });
        assert_eq!(doubled, items.iter().map(|item| item * 2).collect::<Vec<_>>());
        assert_eq!(count.into_inner(), 1000);
        assert!(each(&[], |item: &u64| *item).is_empty());
    }

    #[test]
    #[should_panic(expected = "the seventh")]
    fn a_bug_in_one_of_them_is_not_lost() {
        let items: Vec<u64> = (0..50).collect();
        each(&items, |item| assert!(*item != 7, "the seventh"));
    }

    #[test]
    fn both_come_back() {
        assert_eq!(both(|| 1, || "b"), (1, "b"));
    }
}
