//! The same for each of many things, on as many processors as there are.

use std::thread;

/// What `make` makes of each item, in their order.
pub fn each<T: Sync, U: Send>(items: &[T], make: impl Fn(&T) -> U + Sync) -> Vec<U> {
    let threads = thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let share = items.len().div_ceil(threads).max(1);
    let make = |part: &[T]| part.iter().map(&make).collect::<Vec<U>>();
    thread::scope(|scope| {
        let mut parts = items.chunks(share);
        let first = parts.next().unwrap_or_default();
        let others: Vec<_> = parts.map(|part| scope.spawn(move || make(part))).collect();
        let mut made = make(first);
        for other in others {
            // What panics here is to panic there.
            made.extend(other.join().unwrap_or_else(|reason| std::panic::resume_unwind(reason)));
        }
        made
    })
}

#[cfg(test)]
mod tests {
    use super::each;

    #[test]
    fn each_is_made_once_and_stays_in_its_place() {
        for count in [0, 1, 2, 7, 1000] {
            let items: Vec<u32> = (0..count).collect();
            let made = each(&items, |item| item * 2);
            assert!(made.len() == count as usize && made.iter().zip(&items).all(|(made, item)| *made == item * 2));
        }
    }
}
