//! How far apart two spellings are. Meaning plays no part.

/// Returns the number of letters to add, drop, change or swap between the two, unless it is more than `most`.
pub(crate) fn distance(one: &str, other: &str, most: usize) -> Option<usize> {
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    if one.len().abs_diff(other.len()) > most {
        return None;
    }
    let mut before: Vec<usize> = Vec::new();
    let mut above: Vec<usize> = (0..=other.len()).collect();
    for (row, letter) in one.iter().enumerate() {
        let mut line = vec![row + 1];
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
    }

    #[test]
    fn words_too_far_apart_have_no_distance() {
        check_distance("calyx", "corolla", None);
        check_distance("", "awn", None);
        check_distance("", "aw", Some(2));
    }
}
