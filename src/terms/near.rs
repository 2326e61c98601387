//! How far apart two spellings are. Meaning plays no part.

/// Returns the number of letters to add, drop, change or swap between the two, unless it is more than `most`.
pub(crate) fn distance(one: &str, other: &str, most: usize) -> Option<usize> {
    if one.is_ascii() && other.is_ascii() {
        let near = one.len().abs_diff(other.len()) <= most && may_be_near(one, other, most);
        return if near { steps(one.as_bytes(), other.as_bytes(), most) } else { None };
    }
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    steps(&one, &other, most)
}

/// Says whether two words have letters so much alike that they may be near: a letter changed for another takes one away
/// and brings one, and nothing changes more.
fn may_be_near(one: &str, other: &str, most: usize) -> bool {
    let letters = |word: &str| word.bytes().fold(0_u32, |seen, letter| seen | 1 << (letter & 31));
    (letters(one) ^ letters(other)).count_ones() as usize <= 2 * most
}

fn steps<L: PartialEq>(one: &[L], other: &[L], most: usize) -> Option<usize> {
    if one.len().abs_diff(other.len()) > most {
        return None;
    }
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=other.len()).collect();
    for (row, letter) in one.iter().enumerate() {
        let mut line = Vec::with_capacity(other.len() + 1);
        line.push(row + 1);
        for (column, rival) in other.iter().enumerate() {
            let changed = above[column] + usize::from(letter != rival);
            let mut least = changed.min(above[column + 1] + 1).min(line[column] + 1);
            let swapped = row > 0 && column > 0 && *letter == other[column - 1] && one[row - 1] == *rival;
            if swapped {
                least = least.min(before[column - 1] + 1);
            }
            line.push(least);
        }
        if line.iter().min().is_some_and(|least| *least > most) {
            return None;
        }
        before = std::mem::replace(&mut above, line);
    }
    above.last().copied().filter(|steps| *steps <= most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_distance(one: &str, other: &str, expected: Option<usize>) {
        assert_eq!(distance(one, other, 2), expected);
        assert_eq!(distance(other, one, 2), expected);
    }

    #[test]
    fn a_letter_added_changed_or_swapped_is_one_step() {
        check_distance("calyx", "calyx", Some(0));
        check_distance("calyx", "callyx", Some(1));
        check_distance("calyx", "calix", Some(1));
        check_distance("calyx", "caylx", Some(1));
        check_distance("calix", "callyx", Some(2));
        check_distance("calyx", "talus", None);
        check_distance("calyx", "culex", Some(2));
    }

    #[test]
    fn a_letter_of_several_bytes_is_one_letter() {
        check_distance("épi", "epi", Some(1));
        check_distance("épi", "éps", Some(1));
    }

    #[test]
    fn words_too_far_apart_have_no_distance() {
        check_distance("calyx", "corolla", None);
        check_distance("", "awn", None);
        check_distance("", "aw", Some(2));
    }
}
