//! Phrases of ordinary English that hold the name of an organ or a word of the trade: `the eye of a needle`.
//!
//! A new row needs no code. Single neighbours that make English of a word are in `everyday`.

use crate::link::words::Word;

/// Words with the phrases in which they are English alone, in alphabetical order of the words.
const IDIOMS: &[(&str, &[&str])] = &[
    ("banner", &["banner headline", "banner headlines", "banner year", "under the banner"]),
    ("bark", &["bark up the wrong tree", "bark is worse"]),
    ("bed", &["bed of roses"]),
    ("blade", &["blade of a knife"]),
    ("blunt", &["to be blunt", "to put it blunt"]),
    ("bone", &["bone of contention"]),
    ("bristle", &["which bristle with", "that bristle with", "to bristle with", "and bristle with"]),
    ("bud", &["nip in the bud", "nipped in the bud", "nipped it in the bud"]),
    ("crown", &["crown of the road", "crown of the hill", "crown land"]),
    ("dark", &["in the dark about"]),
    ("double", &["on the double", "double meaning", "double purpose"]),
    ("dry", &["dry run", "high and dry", "ran dry", "runs dry", "run dry", "dry humour"]),
    ("equal", &["equal to the number", "equal in number"]),
    (
        "eye",
        &[
            "eye of a needle",
            "eye of the needle",
            "eye to eye",
            "caught the eye",
            "catches the eye",
            "with half an eye",
            "keep an eye",
            "keen eye",
            "trained eye",
            "practised eye",
            "to the eye",
            "eye of the storm",
        ],
    ),
    ("flat", &["fell flat", "falls flat"]),
    ("flowers", &["language of flowers"]),
    (
        "fruit",
        &[
            "borne fruit in the end",
            "bear fruit in the end",
            "fruit of long",
            "fruit of many years",
            "fruit of his labour",
        ],
    ),
    ("grain", &["grain of salt", "grain of truth", "against the grain"]),
    ("hard", &["hard and fast", "hard to"]),
    (
        "head",
        &[
            "head and shoulders",
            "over his head",
            "over her head",
            "head over heels",
            "head for heights",
            "head for figures",
            "head start",
            "off the top of his head",
            "cool head",
            "clear head",
            "level head",
        ],
    ),
    ("hip", &["to the hip", "hip height"]),
    ("keel", &["on an even keel", "even keel"]),
    (
        "keys",
        &[
            "keys were kept",
            "keys are kept",
            "keys were left",
            "keys are left",
            "keys were held",
            "keys are held",
            "keys were lost",
        ],
    ),
    ("knee", &["knee deep", "to the knee"]),
    (
        "leaf",
        &[
            "a leaf of it",
            "turn over a new leaf",
            "turned over a new leaf",
            "took a leaf out",
            "take a leaf out",
            "leaf of a book",
            "turn a leaf back",
            "turned a leaf back",
            "turn a leaf or two",
            "turns a leaf or two",
            "leaf through",
        ],
    ),
    (
        "leaves",
        &["leaves out the", "leaves out a", "leaves out all", "leaves out any", "leaves out of account"],
    ),
    ("limb", &["out on a limb", "life and limb"]),
    ("line", &["in a curved line", "in a line"]),
    ("lip", &["lip service", "stiff upper lip"]),
    ("naked", &["naked eye", "naked truth"]),
    ("neck", &["neck of the woods", "neck and neck", "neck of land"]),
    (
        "needle",
        &[
            "eye of a needle",
            "eye of the needle",
            "needle in a haystack",
            "needle and thread",
            "compass needle",
        ],
    ),
    ("open", &["in the open", "open to doubt", "open to question", "open question", "open mind"]),
    ("pith", &["pith of the matter"]),
    ("plain", &["plain sailing"]),
    ("ring", &["ring of truth"]),
    ("root", &["root and branch", "root of the trouble", "root cause", "square root"]),
    ("roots", &["grass roots", "family roots"]),
    ("seed", &["seed of doubt", "seed corn of"]),
    ("seeds", &["seeds of doubt"]),
    (
        "shell",
        &["shell sand", "shell sands", "shell beach", "into his shell", "into its shell", "out of his shell"],
    ),
    ("smooth", &["smooth running", "rough with the smooth"]),
    (
        "spike",
        &[
            "showed a spike",
            "saw a spike",
            "shows a spike",
            "sharp spike in the",
            "spike in numbers",
            "spike in records",
        ],
    ),
    ("spur", &["spur of the moment"]),
    ("stem", &["stem the tide", "stem the flow", "stem the loss", "stem to stern", "from stem to"]),
    ("stems", &["stems from the", "stems from a", "it stems from"]),
    ("stiff", &["stiff upper lip", "scared stiff"]),
    ("tail", &["tail end of", "tail of the season", "tail of summer"]),
    ("thorn", &["thorn in the side", "thorn in the flesh", "thorn in his side"]),
    ("throat", &["sore throat", "clear his throat"]),
    ("tip", &["tip of the iceberg", "rubbish tip", "tip of the tongue"]),
    ("tooth", &["tooth and nail", "sweet tooth"]),
    ("upper", &["stiff upper lip", "upper hand"]),
    ("wing", &["on the wing", "wing of the house", "under his wing"]),
    (
        "wintergreen",
        &[
            "wintergreen taste",
            "wintergreen flavour",
            "wintergreen flavor",
            "wintergreen odour",
            "wintergreen odor",
            "wintergreen smell",
            "taste of wintergreen",
            "oil of wintergreen",
        ],
    ),
];

/// Says whether the word at a position stands in a phrase that makes English of it.
pub(super) fn is_in_one(words: &[Word<'_>], at: usize) -> bool {
    let key = &*words[at].key;
    let Ok(row) = IDIOMS.binary_search_by(|(word, _)| (*word).cmp(key)) else { return false };
    IDIOMS[row].1.iter().any(|phrase| {
        let own = phrase.split(' ').position(|word| word == key);
        own.and_then(|own| at.checked_sub(own)).is_some_and(|start| {
            let mut there = words[start..].iter();
            phrase.split(' ').all(|word| there.next().is_some_and(|there| there.key == word))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::link::words::words;

    #[test]
    fn the_table_is_in_order_for_the_search_and_each_phrase_has_its_word() {
        assert!(IDIOMS.is_sorted_by(|one, next| one.0 < next.0));
        let lost = |(word, phrases): &&(&str, &[&str])| {
            phrases.iter().any(|phrase| !phrase.split(' ').any(|there| there == *word))
        };
        assert_eq!(IDIOMS.iter().filter(lost).map(|row| row.0).collect::<Vec<_>>(), Vec::<&str>::new());
    }

    #[test]
    fn a_word_of_a_phrase_is_in_it_and_another_is_not() {
        let text = words("finer than the eye of a needle, the eye of the flower");
        assert!(is_in_one(&text, 3) && is_in_one(&text, 6));
        assert!(!is_in_one(&text, 8));
    }
}
