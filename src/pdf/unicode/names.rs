//! A glyph's name in a font comes in, the characters that it stands for go out.
//!
//! Letters with accents are put together from base and accent, so that only names without such a rule stand in the table.

use unicode_normalization::UnicodeNormalization;

/// Returns what a glyph of that name stands for, ligatures spelled out; `None` for a name that says nothing.
pub(crate) fn text_of(name: &str) -> Option<String> {
    let stem = match name.find('.') {
        Some(0) | None => name,
        Some(dot) => &name[..dot],
    };
    if stem.contains('_') {
        return stem.split('_').map(one).collect();
    }
    one(stem)
}

fn one(name: &str) -> Option<String> {
    let mut letters = name.chars();
    if let (Some(letter), None) = (letters.next(), letters.next()) {
        return Some(letter.to_string());
    }
    if let Ok(found) = NAMES.binary_search_by(|(known, _)| (*known).cmp(name)) {
        return Some(NAMES[found].1.to_owned());
    }
    accented(name).or_else(|| greek(name)).or_else(|| hexadecimal(name)).or_else(|| small_capital(name))
}

/// Reads names like `eacute` or `Scaron`.
fn accented(name: &str) -> Option<String> {
    let base = name.chars().next().filter(char::is_ascii_alphabetic)?;
    let accent = &name[base.len_utf8()..];
    let (_, mark) = ACCENTS.iter().find(|(known, _)| *known == accent)?;
    let composed: String = [base, *mark].into_iter().nfc().collect();
    Some(composed)
}

/// Reads names like `alpha` and `Omega`.
fn greek(name: &str) -> Option<String> {
    let lower = name.to_ascii_lowercase();
    let (_, letter) = GREEK.iter().find(|(known, _)| *known == lower)?;
    let capital = name.starts_with(|first: char| first.is_ascii_uppercase());
    Some(if capital { letter.to_uppercase().collect() } else { letter.to_string() })
}

/// Reads names like `uni00E9`, `uni00660069` and `u1D538`.
fn hexadecimal(name: &str) -> Option<String> {
    if let Some(digits) =
        name.strip_prefix("uni").filter(|digits| !digits.is_empty() && digits.len() % 4 == 0)
    {
        let codes: Option<Vec<u16>> = digits
            .as_bytes()
            .chunks(4)
            .map(|four| u16::from_str_radix(std::str::from_utf8(four).ok()?, 16).ok())
            .collect();
        return String::from_utf16(&codes?).ok();
    }
    let digits = name.strip_prefix('u').filter(|digits| (4..=6).contains(&digits.len()))?;
    u32::from_str_radix(digits, 16).ok().and_then(char::from_u32).map(String::from)
}

/// Reads names like `Asmall` and `Eacutesmall`, of fonts of small capitals.
fn small_capital(name: &str) -> Option<String> {
    let stem = name.strip_suffix("small")?;
    (!stem.is_empty()).then(|| one(stem)).flatten()
}

/// Accents as they end names, with their combining marks.
const ACCENTS: &[(&str, char)] = &[
    ("acute", '\u{301}'),
    ("breve", '\u{306}'),
    ("caron", '\u{30c}'),
    ("cedilla", '\u{327}'),
    ("circumflex", '\u{302}'),
    ("commaaccent", '\u{327}'),
    ("dieresis", '\u{308}'),
    ("dotaccent", '\u{307}'),
    ("dotbelow", '\u{323}'),
    ("grave", '\u{300}'),
    ("hungarumlaut", '\u{30b}'),
    ("macron", '\u{304}'),
    ("ogonek", '\u{328}'),
    ("ring", '\u{30a}'),
    ("tilde", '\u{303}'),
];

/// Greek letters by name.
const GREEK: &[(&str, char)] = &[
    ("alpha", 'α'),
    ("beta", 'β'),
    ("chi", 'χ'),
    ("delta", 'δ'),
    ("epsilon", 'ε'),
    ("eta", 'η'),
    ("gamma", 'γ'),
    ("iota", 'ι'),
    ("kappa", 'κ'),
    ("lambda", 'λ'),
    ("mu", 'μ'),
    ("nu", 'ν'),
    ("omega", 'ω'),
    ("omicron", 'ο'),
    ("phi", 'φ'),
    ("pi", 'π'),
    ("psi", 'ψ'),
    ("rho", 'ρ'),
    ("sigma", 'σ'),
    ("tau", 'τ'),
    ("theta", 'θ'),
    ("upsilon", 'υ'),
    ("xi", 'ξ'),
    ("zeta", 'ζ'),
];

/// Names without a rule, sorted.
const NAMES: &[(&str, &str)] = &[
    ("AE", "Æ"),
    ("Dcroat", "Đ"),
    ("Delta", "∆"),
    ("Eng", "Ŋ"),
    ("Eth", "Ð"),
    ("Euro", "€"),
    ("H18533", "■"),
    ("Hbar", "Ħ"),
    ("IJ", "Ĳ"),
    ("Idotaccent", "İ"),
    ("Lslash", "Ł"),
    ("OE", "Œ"),
    ("Omega", "Ω"),
    ("Oslash", "Ø"),
    ("Tcommaaccent", "Ţ"),
    ("Thorn", "Þ"),
    ("a71", "●"),
    ("acute", "´"),
    ("ae", "æ"),
    ("afii61352", "№"),
    ("ampersand", "&"),
    ("angbracketleft", "⟨"),
    ("angbracketright", "⟩"),
    ("angleleft", "⟨"),
    ("angleright", "⟩"),
    ("approxequal", "≈"),
    ("arrowboth", "↔"),
    ("arrowdown", "↓"),
    ("arrowleft", "←"),
    ("arrowright", "→"),
    ("arrowup", "↑"),
    ("asciicircum", "^"),
    ("asciitilde", "~"),
    ("asterisk", "*"),
    ("asteriskmath", "∗"),
    ("at", "@"),
    ("backslash", "\\"),
    ("bar", "|"),
    ("braceleft", "{"),
    ("braceright", "}"),
    ("bracketleft", "["),
    ("bracketright", "]"),
    ("breve", "˘"),
    ("brokenbar", "¦"),
    ("bullet", "•"),
    ("bullet1", "•"),
    ("caron", "ˇ"),
    ("cedilla", "¸"),
    ("cent", "¢"),
    ("check", "✓"),
    ("checkmark", "✓"),
    ("circle", "○"),
    ("circlemultiply", "⊗"),
    ("circleplus", "⊕"),
    ("circumflex", "ˆ"),
    ("club", "♣"),
    ("colon", ":"),
    ("comma", ","),
    ("copyright", "©"),
    ("ct", "ct"),
    ("currency", "¤"),
    ("dagger", "†"),
    ("daggerdbl", "‡"),
    ("dcroat", "đ"),
    ("degree", "°"),
    ("diamond", "♦"),
    ("dieresis", "¨"),
    ("divide", "÷"),
    ("dollar", "$"),
    ("dotaccent", "˙"),
    ("dotlessi", "ı"),
    ("dotlessi1", "ı"),
    ("dotlessj", "ȷ"),
    ("dotmath", "⋅"),
    ("eight", "8"),
    ("eightinferior", "₈"),
    ("eightoldstyle", "8"),
    ("eightsuperior", "⁸"),
    ("element", "∈"),
    ("ellipsis", "…"),
    ("emdash", "—"),
    ("emptyset", "∅"),
    ("endash", "–"),
    ("eng", "ŋ"),
    ("equal", "="),
    ("estimated", "℮"),
    ("eth", "ð"),
    ("exclam", "!"),
    ("exclamdown", "¡"),
    ("existential", "∃"),
    ("female", "♀"),
    ("ff", "ff"),
    ("ffi", "ffi"),
    ("ffl", "ffl"),
    ("fi", "fi"),
    ("figuredash", "‒"),
    ("filledbox", "■"),
    ("five", "5"),
    ("fiveeighths", "⅝"),
    ("fiveinferior", "₅"),
    ("fiveoldstyle", "5"),
    ("fivesuperior", "⁵"),
    ("fl", "fl"),
    ("florin", "ƒ"),
    ("four", "4"),
    ("fourinferior", "₄"),
    ("fouroldstyle", "4"),
    ("foursuperior", "⁴"),
    ("fraction", "⁄"),
    ("germandbls", "ß"),
    ("grave", "`"),
    ("greater", ">"),
    ("greaterequal", "≥"),
    ("greaterorequalslant", "⩾"),
    ("guillemotleft", "«"),
    ("guillemotright", "»"),
    ("guilsinglleft", "‹"),
    ("guilsinglright", "›"),
    ("hbar", "ħ"),
    ("heart", "♥"),
    ("horizontalbar", "―"),
    ("hungarumlaut", "˝"),
    ("hyphen", "-"),
    ("hyphenminus", "-"),
    ("hyphentwo", "‐"),
    ("ij", "ĳ"),
    ("infinity", "∞"),
    ("integral", "∫"),
    ("intersection", "∩"),
    ("less", "<"),
    ("lessequal", "≤"),
    ("lessorequalslant", "⩽"),
    ("logicalnot", "¬"),
    ("longs", "ſ"),
    ("longst", "ſt"),
    ("lozenge", "◊"),
    ("lslash", "ł"),
    ("macron", "¯"),
    ("male", "♂"),
    ("maltese", "✠"),
    ("middot", "·"),
    ("minus", "−"),
    ("minute", "′"),
    ("mu", "µ"),
    ("mu1", "µ"),
    ("multiply", "×"),
    ("nbspace", " "),
    ("nine", "9"),
    ("nineinferior", "₉"),
    ("nineoldstyle", "9"),
    ("ninesuperior", "⁹"),
    ("nonbreakinghyphen", "‑"),
    ("nonbreakingspace", " "),
    ("notequal", "≠"),
    ("numbersign", "#"),
    ("numero", "№"),
    ("oe", "œ"),
    ("ogonek", "˛"),
    ("omega1", "ϖ"),
    ("one", "1"),
    ("oneeighth", "⅛"),
    ("onehalf", "½"),
    ("oneinferior", "₁"),
    ("oneoldstyle", "1"),
    ("onequarter", "¼"),
    ("onesuperior", "¹"),
    ("onethird", "⅓"),
    ("openbullet", "◦"),
    ("ordfeminine", "ª"),
    ("ordmasculine", "º"),
    ("oslash", "ø"),
    ("paragraph", "¶"),
    ("parenleft", "("),
    ("parenright", ")"),
    ("partialdiff", "∂"),
    ("percent", "%"),
    ("period", "."),
    ("periodcentered", "·"),
    ("periodoldstyle", "."),
    ("perten", "%"),
    ("perthousand", "‰"),
    ("phi1", "ϕ"),
    ("plus", "+"),
    ("plusminus", "±"),
    ("prime", "′"),
    ("product", "∏"),
    ("proportional", "∝"),
    ("question", "?"),
    ("questiondown", "¿"),
    ("quotedbl", "\""),
    ("quotedblbase", "„"),
    ("quotedblleft", "“"),
    ("quotedblright", "”"),
    ("quoteleft", "‘"),
    ("quoteright", "’"),
    ("quotesinglbase", "‚"),
    ("quotesingle", "'"),
    ("radical", "√"),
    ("registered", "®"),
    ("ring", "˚"),
    ("second", "″"),
    ("section", "§"),
    ("semicolon", ";"),
    ("seven", "7"),
    ("seveneighths", "⅞"),
    ("seveninferior", "₇"),
    ("sevenoldstyle", "7"),
    ("sevensuperior", "⁷"),
    ("sfthyphen", "\u{ad}"),
    ("sigma1", "ς"),
    ("similar", "∼"),
    ("six", "6"),
    ("sixinferior", "₆"),
    ("sixoldstyle", "6"),
    ("sixsuperior", "⁶"),
    ("slash", "/"),
    ("softhyphen", "\u{ad}"),
    ("space", " "),
    ("spade", "♠"),
    ("st", "st"),
    ("star", "☆"),
    ("sterling", "£"),
    ("summation", "∑"),
    ("tcommaaccent", "ţ"),
    ("theta1", "ϑ"),
    ("thorn", "þ"),
    ("three", "3"),
    ("threeeighths", "⅜"),
    ("threeinferior", "₃"),
    ("threeoldstyle", "3"),
    ("threequarters", "¾"),
    ("threesuperior", "³"),
    ("tilde", "˜"),
    ("trademark", "™"),
    ("triagdn", "▼"),
    ("triagup", "▲"),
    ("two", "2"),
    ("twoinferior", "₂"),
    ("twooldstyle", "2"),
    ("twosuperior", "²"),
    ("twothirds", "⅔"),
    ("underscore", "_"),
    ("union", "∪"),
    ("universal", "∀"),
    ("visiblespace", " "),
    ("yen", "¥"),
    ("zero", "0"),
    ("zeroinferior", "₀"),
    ("zerooldstyle", "0"),
    ("zerosuperior", "⁰"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_name(name: &str, expected: &str) {
        assert_eq!(text_of(name).as_deref().unwrap_or("nothing"), expected);
    }

    #[test]
    fn the_table_is_sorted() {
        assert!(NAMES.windows(2).all(|pair| pair[0].0 < pair[1].0));
    }

    #[test]
    fn letters_and_punctuation_have_names() {
        check_name("a", "a");
        check_name("seven", "7");
        check_name("endash", "–");
        check_name("quoteright", "’");
        check_name("female", "♀");
    }

    #[test]
    fn accents_are_composed() {
        check_name("eacute", "é");
        check_name("Scaron", "Š");
        check_name("odieresis", "ö");
    }

    #[test]
    fn ligatures_are_spelled_out() {
        check_name("ffi", "ffi");
        check_name("f_i", "fi");
        check_name("T_h", "Th");
    }

    #[test]
    fn suffixes_and_small_capitals_name_the_plain_letter() {
        check_name("a.sc", "a");
        check_name("Asmall", "A");
        check_name("two.oldstyle", "2");
    }

    #[test]
    fn names_by_code_are_read() {
        check_name("uni00E9", "é");
        check_name("uni00660069", "fi");
        check_name("u2640", "♀");
    }

    #[test]
    fn a_name_that_says_nothing_stands_for_nothing() {
        check_name("g17", "nothing");
        check_name(".notdef", "nothing");
    }
}
