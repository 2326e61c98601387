//! Colour words: which hues they name, and which hues are neighbours (S11). Shades are not told apart.

/// A hue on no particular scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Hue {
    /// White, cream and the like.
    White,
    /// From light to dark grey.
    Grey,
    /// Black and blackish.
    Black,
    /// Brown.
    Brown,
    /// Red, scarlet, crimson.
    Red,
    /// Pink and rose.
    Pink,
    /// Orange.
    Orange,
    /// Yellow and gold.
    Yellow,
    /// Cream: between white and yellow.
    Cream,
    /// Green.
    Green,
    /// Blue.
    Blue,
    /// Purple, violet, mauve.
    Purple,
}

/// Colour words with their hue.
const WORDS: &[(&str, Hue)] = &[
    ("white", Hue::White),
    ("snowy", Hue::White),
    ("niveous", Hue::White),
    ("ivory", Hue::Cream),
    ("cream", Hue::Cream),
    ("creamy", Hue::Cream),
    ("cream-coloured", Hue::Cream),
    ("ochroleucous", Hue::Cream),
    ("grey", Hue::Grey),
    ("gray", Hue::Grey),
    ("ashy", Hue::Grey),
    ("ash", Hue::Grey),
    ("silvery", Hue::Grey),
    ("black", Hue::Black),
    ("brown", Hue::Brown),
    ("chestnut", Hue::Brown),
    ("tawny", Hue::Brown),
    ("buff", Hue::Brown),
    ("rusty", Hue::Brown),
    ("fuscous", Hue::Brown),
    ("castaneous", Hue::Brown),
    ("red", Hue::Red),
    ("scarlet", Hue::Red),
    ("crimson", Hue::Red),
    ("vermilion", Hue::Red),
    ("carmine", Hue::Red),
    ("ruddy", Hue::Red),
    ("pink", Hue::Pink),
    ("rose", Hue::Pink),
    ("rosy", Hue::Pink),
    ("roseate", Hue::Pink),
    ("magenta", Hue::Purple),
    ("orange", Hue::Orange),
    ("yellow", Hue::Yellow),
    ("golden", Hue::Yellow),
    ("gold", Hue::Yellow),
    ("lemon", Hue::Yellow),
    ("straw-coloured", Hue::Yellow),
    ("stramineous", Hue::Yellow),
    ("green", Hue::Green),
    ("olive", Hue::Green),
    ("blue", Hue::Blue),
    ("azure", Hue::Blue),
    ("sky-blue", Hue::Blue),
    ("purple", Hue::Purple),
    ("violet", Hue::Purple),
    ("mauve", Hue::Purple),
    ("lilac", Hue::Purple),
    ("lavender", Hue::Purple),
];

/// Hues that one may call by the other's name.
const NEIGHBOURS: &[(Hue, Hue)] = &[
    (Hue::White, Hue::Cream),
    (Hue::Cream, Hue::Yellow),
    (Hue::Yellow, Hue::Orange),
    (Hue::Orange, Hue::Red),
    (Hue::Red, Hue::Pink),
    (Hue::Pink, Hue::Purple),
    (Hue::Purple, Hue::Blue),
    (Hue::Red, Hue::Purple),
    (Hue::Red, Hue::Brown),
    (Hue::White, Hue::Pink),
    (Hue::Grey, Hue::Brown),
    (Hue::Grey, Hue::White),
    (Hue::Brown, Hue::Black),
    (Hue::Brown, Hue::Orange),
];

/// Returns the hues of a colour word, also of two joined (`yellow-green`) and of those in -ish.
pub(crate) fn hues(word: &str) -> Vec<Hue> {
    if let Some(hue) = hue(word) {
        return vec![hue];
    }
    if word.contains('-') {
        let parts: Vec<Option<Hue>> = word.split('-').map(hue).collect();
        if parts.iter().all(Option::is_some) {
            return parts.into_iter().flatten().collect();
        }
    }
    Vec::new()
}

/// Says whether a word names a colour.
pub(crate) fn is_colour(word: &str) -> bool {
    !hues(word).is_empty()
}

fn hue(word: &str) -> Option<Hue> {
    let listed = |word: &str| WORDS.iter().find(|(own, _)| *own == word).map(|(_, hue)| *hue);
    listed(word).or_else(|| {
        let stem = word.strip_suffix("ish")?;
        let undoubled = stem.strip_suffix('d').map(str::to_owned);
        listed(stem).or_else(|| listed(&format!("{stem}e"))).or_else(|| listed(&undoubled?))
    })
}

/// Returns how near two colour words are: 1 for one hue, 0 for hues that nobody mixes up.
pub(crate) fn nearness(one: &str, other: &str) -> f32 {
    let (one, other) = (hues(one), hues(other));
    let pair = |a: Hue, b: Hue| {
        if a == b {
            1.0
        } else if NEIGHBOURS.contains(&(a, b)) || NEIGHBOURS.contains(&(b, a)) {
            NEIGHBOUR
        } else {
            0.0
        }
    };
    let mut nearest = 0.0_f32;
    for a in &one {
        for b in &other {
            nearest = nearest.max(pair(*a, *b));
        }
    }
    if one.len() != other.len() { nearest * MIXED } else { nearest }
}

/// How near neighbouring hues are.
const NEIGHBOUR: f32 = 0.35;

/// How much a hue counts that is one of two.
const MIXED: f32 = 0.8;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn s11_hues_are_the_same_neighbours_or_strangers() {
        assert!(nearness("purplish", "purple") > 0.9);
        assert!(nearness("reddish", "scarlet") > 0.9);
        assert!((nearness("pink", "red") - NEIGHBOUR).abs() < 0.01);
        assert!(nearness("yellow", "blue") < 0.01);
        assert!(nearness("yellow-green", "green") > 0.7);
        assert!(!is_colour("hairy"));
    }
}
