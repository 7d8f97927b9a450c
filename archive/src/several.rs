//! One thing done to several files at once: a disk or a share that is asked for one file at a time mostly waits.

/// Readers at once. A disk answers some at a time faster than one by one; more of them help no disk that was tried.
const READERS: usize = 4;

/// Calls `one` with each of `all` on a few threads; the results are in the order of `all`.
pub(crate) fn several<I: Sync, O: Send>(all: &[I], one: impl Fn(&I) -> O + Sync) -> Vec<O> {
    let share = all.len().div_ceil(READERS).max(1);
    if all.len() < READERS {
        return all.iter().map(one).collect();
    }
    std::thread::scope(|scope| {
        let parts: Vec<_> =
            all.chunks(share).map(|part| scope.spawn(|| part.iter().map(&one).collect::<Vec<O>>())).collect();
        let mut made = Vec::with_capacity(all.len());
        for part in parts {
            match part.join() {
                Ok(part) => made.extend(part),
                Err(fault) => std::panic::resume_unwind(fault),
            }
        }
        made
    })
}

#[cfg(test)]
mod tests {
    use super::several;

    #[test]
    fn what_comes_back_stands_in_the_order_of_what_went_in() {
        for n in [0, 1, 3, 4, 5, 17, 1000] {
            let all: Vec<u32> = (0..n).collect();
            assert_eq!(several(&all, |i| i * 2), (0..n).map(|i| i * 2).collect::<Vec<u32>>());
        }
    }
}
