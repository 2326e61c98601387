//! Word forms: how words are folded for matching, and which headwords a word met in a text may be a form of.
//!
//! Nothing is stripped blindly: what is offered here counts only where the caller's list has it as a headword,
//! so `axis` is no plural of `axi`.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization as _;

/// How near a form is to its headword.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kin {
    /// The word itself in another number or spelling.
    Same,
    /// Another word made from it: an adverb, or an adjective in -ed; it yields to a headword of its own.
    Derived,
}

/// Nouns whose plurals follow none of the rules.
const IRREGULAR: &[(&str, &str)] = &[
    ("corpus", "corpora"),
    ("foot", "feet"),
    ("genus", "genera"),
    ("phalanx", "phalanges"),
    ("species", "species"),
    ("tooth", "teeth"),
];

/// Spellings that stand for one another anywhere in a word.
const SPELLINGS: &[(&str, &str)] = &[
    ("centre", "center"),
    ("colour", "color"),
    ("fibre", "fiber"),
    ("grey", "gray"),
    ("mould", "mold"),
    ("plough", "plow"),
    ("sulph", "sulf"),
];

/// Words that look derived but mean something else: `entirely` says nothing of a margin.
const NOT_DERIVED: &[&str] = &[
    "alternately",
    "barely",
    "based",
    "bodied",
    "commonly",
    "completely",
    "definitely",
    "distinctly",
    "dried",
    "entirely",
    "familied",
    "formed",
    "freely",
    "hardly",
    "hosted",
    "imperfectly",
    "incompletely",
    "indefinitely",
    "likely",
    "mostly",
    "nearly",
    "outlined",
    "perfectly",
    "planted",
    "primarily",
    "properly",
    "rarely",
    "regularly",
    "roughly",
    "rushed",
    "scarcely",
    "secondarily",
    "shortly",
    "simply",
    "soled",
    "strictly",
    "timed",
];

/// Letters of a stem at least: shorter ones make other words (`as` no plural of `a`).
const SHORTEST_STEM: usize = 2;

/// Endings of headwords with those of their plurals (English, Latin, Greek) and of their free variants.
const SAME: &[(&str, &str)] = &[
    ("", "s"),
    ("", "es"),
    ("y", "ies"),
    ("f", "ves"),
    ("fe", "ves"),
    ("a", "ae"),
    ("ax", "aces"),
    ("en", "ina"),
    ("ex", "ices"),
    ("is", "es"),
    ("ix", "ices"),
    ("ma", "mata"),
    ("on", "a"),
    ("um", "a"),
    ("us", "i"),
    ("ux", "uces"),
    ("yx", "yces"),
    ("ate", "ated"),
    ("ated", "ate"),
    ("ic", "ical"),
    ("ical", "ic"),
    ("ose", "ous"),
    ("ous", "ose"),
];

/// Ends of words that take -es for their plural: hissing ones, -o, and Latin -on (`ribes` is no plural of `rib`).
const BEFORE_ES: &[&str] = &["s", "x", "z", "ch", "sh", "o", "on"];

/// Endings of headwords with those of the adverbs and of the adjectives in -ed made from them.
const DERIVED: &[(&str, &str)] = &[
    ("", "ly"),
    ("le", "ly"),
    ("l", "ly"),
    ("y", "ily"),
    ("", "ally"),
    ("", "ed"),
    ("e", "ed"),
    ("y", "ied"),
    ("f", "ved"),
];

/// Folds a word or phrase for matching: lower case, ligatures and accents resolved, hyphens as blanks.
pub(crate) fn fold(word: &str) -> Cow<'_, str> {
    if word.bytes().all(|byte| byte.is_ascii_lowercase()) {
        return Cow::Borrowed(word);
    }
    let mut key = String::with_capacity(word.len() + 2);
    if word.is_ascii() {
        for byte in word.bytes() {
            match byte {
                b'-' => push_blank(&mut key),
                blank if blank.is_ascii_whitespace() || blank == 0x0b => push_blank(&mut key),
                other => key.push(other.to_ascii_lowercase() as char),
            }
        }
        key.truncate(key.trim_end().len());
        return Cow::Owned(key);
    }
    for letter in word.nfd().flat_map(char::to_lowercase) {
        match letter {
            'æ' => key.push_str("ae"),
            'œ' => key.push_str("oe"),
            'ß' => key.push_str("ss"),
            '’' | '‘' | 'ʼ' => key.push('\''),
            '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{ad}' => push_blank(&mut key),
            blank if blank.is_whitespace() => push_blank(&mut key),
            mark if ('\u{300}'..='\u{36f}').contains(&mark) => {}
            other => key.push(other),
        }
    }
    key.truncate(key.trim_end().len());
    Cow::Owned(key)
}

/// Calls `try_headword` with every headword that the folded word would be a form of this kin of, were there such a one.
///
/// The caller's list of headwords decides: of `axes` both `axis` and `axe` are offered, of `glabrous` also `glabrou`.
pub(crate) fn headwords(key: &str, kin: Kin, mut try_headword: impl FnMut(&str)) {
    let Some(end) = key.as_bytes().last() else { return };
    let rules = match kin {
        Kin::Same => SAME,
        // What is derived ends in -ly or -ed, which is told by one letter before a table is asked.
        Kin::Derived if !b"yd".contains(end) || NOT_DERIVED.contains(&key) => return,
        Kin::Derived => DERIVED,
    };
    let last = key.rfind(' ').map_or(0, |blank| blank + 1);
    let mut headword = String::new();
    for (ending, form) in rules.iter().filter(|(_, form)| form.as_bytes().last() == Some(end)) {
        let Some(stem) = key.strip_suffix(form).filter(|stem| stem.len() >= last + SHORTEST_STEM) else {
            continue;
        };
        // `petal spurred` says nothing of a `petal spur`.
        if kin == Kin::Derived && last > 0 && form.ends_with("ed") {
            continue;
        }
        if (*ending, *form) == ("", "es") && !BEFORE_ES.iter().any(|end| stem.ends_with(end)) {
            continue;
        }
        headword.clear();
        headword.push_str(stem);
        headword.push_str(ending);
        try_headword(&headword);
    }
    if kin == Kin::Derived && last == 0 {
        undoubled(key).into_iter().for_each(try_headword);
    } else if let Some((single, _)) = IRREGULAR.iter().find(|(_, plural)| *plural == &key[last..]) {
        try_headword(&format!("{}{single}", &key[..last]));
    }
}

/// Returns the other spellings of a folded word or phrase.
pub(crate) fn spellings(key: &str) -> Vec<String> {
    // Quicker than `contains` for words this short, and the glossary asks for each of its words.
    let has = |part: &str| {
        let (key, part) = (key.as_bytes(), part.as_bytes());
        (0..key.len()).any(|at| key[at] == part[0] && key[at..].starts_with(part))
    };
    let swapped = SPELLINGS.iter().filter_map(|(one, other)| {
        let (there, instead) = if has(one) { (one, other) } else { (other, one) };
        has(there).then(|| key.replace(there, instead))
    });
    swapped.chain(key.strip_prefix("ae").map(|rest| format!("e{rest}"))).collect()
}

fn push_blank(key: &mut String) {
    if !key.is_empty() && !key.ends_with(' ') {
        key.push(' ');
    }
}

/// Returns the stem of a word in -ed with a doubled consonant: ribbed, spurred, lipped.
fn undoubled(key: &str) -> Option<&str> {
    let stem = key.strip_suffix("ed")?;
    let (before, last) = stem.char_indices().next_back()?;
    (stem[..before].ends_with(last) && !"aeioulsxy".contains(last)).then_some(&stem[..before])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_form(headword: &str, form: &str, expected: Option<Kin>) {
        let (headword, form) = (fold(headword), fold(form));
        let spelled = spellings(&headword).contains(&form.clone().into_owned()).then_some(Kin::Same);
        let by_rule = [Kin::Same, Kin::Derived].into_iter().find(|kin| {
            let mut found = headword == form;
            headwords(&form, *kin, |offered| found |= offered == headword);
            found
        });
        assert_eq!(by_rule.or(spelled), expected, "{form} of {headword}");
    }

    #[test]
    fn latin_and_greek_plurals_are_made_from_the_singular() {
        let pairs = [
            ("ovarium", "ovaria"),
            ("stigma", "stigmata"),
            ("stamen", "stamina"),
            ("sorus", "sori"),
            ("bractea", "bracteae"),
            ("palea", "paleæ"),
            ("axis", "axes"),
            ("cicatrix", "cicatrices"),
            ("calyx", "calyces"),
            ("caudex", "caudices"),
            ("faux", "fauces"),
            ("spermatozoon", "spermatozoa"),
            ("genus", "genera"),
            ("corpus", "corpora"),
        ];
        for (single, plural) in pairs {
            check_form(single, plural, Some(Kin::Same));
        }
    }

    #[test]
    fn english_plurals_run_beside_the_latin_ones() {
        for (single, plural) in [
            ("stigma", "stigmas"),
            ("calyx", "calyxes"),
            ("ovary", "ovaries"),
            ("leaf", "leaves"),
            ("tooth", "teeth"),
            ("branch", "branches"),
            ("embryo", "embryos"),
            ("leaf scar", "leaf-scars"),
        ] {
            check_form(single, plural, Some(Kin::Same));
        }
    }

    #[test]
    fn endings_and_spellings_vary_freely() {
        for (word, variant) in [
            ("imbricate", "imbricated"),
            ("imbricated", "imbricate"),
            ("cylindric", "cylindrical"),
            ("spinose", "spinous"),
            ("coloured", "colored"),
            ("half-inferior", "Half inferior"),
            ("aestivation", "estivation"),
            ("æstivation", "aestivation"),
        ] {
            check_form(word, variant, Some(Kin::Same));
        }
    }

    #[test]
    fn adverbs_and_words_in_ed_are_derived() {
        for (word, other) in [
            ("dense", "densely"),
            ("simple", "simpled"),
            ("ovate", "ovately"),
            ("subtle", "subtly"),
            ("cylindric", "cylindrically"),
            ("dull", "dully"),
            ("woody", "woodily"),
            ("petiole", "petioled"),
            ("rib", "ribbed"),
            ("leaf", "leaved"),
            ("ovary", "ovaried"),
        ] {
            check_form(word, other, Some(Kin::Derived));
        }
    }

    #[test]
    fn words_that_only_look_derived_are_left_alone() {
        check_form("simple", "simply", None);
        check_form("entire", "entirely", None);
        check_form("base", "based", None);
        check_form("distinct", "distinctly", None);
    }

    #[test]
    fn a_phrase_has_an_adverb_but_no_word_in_ed() {
        check_form("twice pinnate", "twice pinnately", Some(Kin::Derived));
        check_form("petal spur", "petal spurred", None);
    }

    #[test]
    fn only_words_that_hiss_take_es() {
        check_form("rib", "ribes", None);
        check_form("deltoid", "deltoides", None);
        check_form("sinus", "sinuses", Some(Kin::Same));
        check_form("monocotyledon", "monocotyledones", Some(Kin::Same));
    }

    #[test]
    fn a_plural_of_one_letter_is_none() {
        check_form("a", "as", None);
        check_form("i", "is", None);
    }
}
