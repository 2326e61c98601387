//! Base encodings: a code of one byte comes in, the character that it stands for goes out.
//!
//! The tables are those of the PDF standard's annex D and of the two encodings that TeX's own fonts carry.

/// An encoding that a font may be set in without saying more than its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Base {
    /// `StandardEncoding`, of most Type 1 programs.
    Standard,
    /// `WinAnsiEncoding`.
    Win,
    /// `MacRomanEncoding`.
    Mac,
    /// `PDFDocEncoding`, of text outside of contents.
    Doc,
    /// Adobe's Symbol.
    Symbol,
    /// Adobe's Zapf Dingbats.
    Dingbats,
    /// TeX's oldest text encoding, of fonts of 128 glyphs.
    TexOld,
    /// TeX's text encoding of 256 glyphs.
    TexCork,
    /// TeX's signs that go with the newer text encoding: no letters, but fractions, × and °.
    TexSigns,
}

impl Base {
    /// Returns the encoding of that name in a PDF.
    pub(crate) fn named(name: &[u8]) -> Option<Self> {
        match name {
            b"StandardEncoding" => Some(Self::Standard),
            b"WinAnsiEncoding" => Some(Self::Win),
            b"PDFDocEncoding" => Some(Self::Doc),
            b"MacRomanEncoding" | b"MacExpertEncoding" => Some(Self::Mac),
            _ => None,
        }
    }

    /// Returns the characters of all 256 codes; `None` where a code is not used.
    pub(crate) fn table(self) -> Vec<Option<char>> {
        let (low, high) = match self {
            Self::Standard => (ascii(&[(b'\'', '’'), (b'`', '‘')]), STANDARD_HIGH),
            Self::Win => (ascii(&[]), WIN_HIGH),
            Self::Mac => (ascii(&[]), MAC_HIGH),
            Self::Doc => (doc_low(), DOC_HIGH),
            Self::Symbol => (after_controls(SYMBOL_LOW), SYMBOL_HIGH),
            Self::Dingbats => (after_controls(DINGBATS_LOW), ""),
            Self::TexOld => (tex(TEX_OLD_CONTROLS, TEX_OLD_CHANGES), ""),
            Self::TexCork => (tex(TEX_CORK_CONTROLS, TEX_CORK_CHANGES), TEX_CORK_HIGH),
            Self::TexSigns => (tex_signs(), TEX_SIGNS_HIGH),
        };
        let mut table: Vec<Option<char>> = low.into_iter().chain(high.chars().map(used)).collect();
        table.resize(256, None);
        table
    }
}

fn used(character: char) -> Option<char> {
    (character != '\0').then_some(character)
}

fn ascii(changes: &[(u8, char)]) -> Vec<Option<char>> {
    let mut low: Vec<Option<char>> =
        (0..128_u8).map(|code| (32..127).contains(&code).then(|| char::from(code))).collect();
    for &(code, character) in changes {
        low[usize::from(code)] = Some(character);
    }
    low
}

/// Blanks that break lines and cells stay: this text is set by no operator.
fn doc_low() -> Vec<Option<char>> {
    let mut low = ascii(&[]);
    for (place, character) in low[24..32].iter_mut().zip(DOC_CONTROLS.chars()) {
        *place = used(character);
    }
    for blank in ['\t', '\n', '\r'] {
        low[blank as usize] = Some(blank);
    }
    low
}

fn after_controls(characters: &str) -> Vec<Option<char>> {
    let mut low = vec![None; 32];
    low.extend(characters.chars().map(used));
    low.resize(128, None);
    low
}

fn tex(controls: &str, changes: &[(u8, char)]) -> Vec<Option<char>> {
    let mut low = ascii(changes);
    for (place, character) in low.iter_mut().zip(controls.chars()) {
        *place = used(character);
    }
    low
}

fn tex_signs() -> Vec<Option<char>> {
    let mut low = vec![None; 128];
    for &(code, character) in TEX_SIGNS {
        low[usize::from(code)] = Some(character);
    }
    for code in b'0'..=b'9' {
        low[usize::from(code)] = Some(char::from(code));
    }
    low
}

/// Codes of TeX's oldest text encoding that differ from ASCII.
const TEX_OLD_CHANGES: &[(u8, char)] = &[
    (b'"', '”'),
    (b'\'', '’'),
    (b'<', '¡'),
    (b'>', '¿'),
    (b'\\', '“'),
    (b'_', '˙'),
    (b'`', '‘'),
    (b'{', '–'),
    (b'|', '—'),
    (b'}', '˝'),
    (b'~', '˜'),
    (127, '¨'),
];
/// Codes of TeX's newer text encoding that differ from ASCII.
const TEX_CORK_CHANGES: &[(u8, char)] = &[(b'\'', '’'), (b'`', '‘'), (127, '-')];

/// Codes of TeX's signs below 128; those in the places of letters are left out, and the digits are old-style ones.
const TEX_SIGNS: &[(u8, char)] = &[(b'$', '$'), (b'\'', '\''), (b'*', '*'), (b'/', '⁄'), (b'=', '−')];

const STANDARD_HIGH: &str = "\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0¡¢£⁄¥ƒ§¤'“«‹›ﬁﬂ\0–†‡·\0¶•‚„”»…‰\0¿\0`´ˆ˜¯˘˙¨\0˚¸\0˝˛ˇ—\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0Æ\0ª\0\0\0\0ŁØŒº\0\0\0\0\0æ\0\0\0ı\0\0łøœß\0\0\0\0";
const WIN_HIGH: &str = "€•‚ƒ„…†‡ˆ‰Š‹Œ•Ž••‘’“”•–—˜™š›œ•žŸ ¡¢£¤¥¦§¨©ª«¬\u{ad}®¯°±²³´µ¶·¸¹º»¼½¾¿ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõö÷øùúûüýþÿ";
const DOC_CONTROLS: &str = "˘ˇˆ˙˝˛˚˜";
const DOC_HIGH: &str = "•†‡…—–ƒ⁄‹›−‰„“”‘’‚™ﬁﬂŁŒŠŸŽıłœšž\0€¡¢£¤¥¦§¨©ª«¬\0®¯°±²³´µ¶·¸¹º»¼½¾¿ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖ×ØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõö÷øùúûüýþÿ";
const MAC_HIGH: &str = "ÄÅÇÉÑÖÜáàâäãåçéèêëíìîïñóòôöõúùûü†°¢£§•¶ß®©™´¨≠ÆØ∞±≤≥¥µ∂∑∏π∫ªºΩæø¿¡¬√ƒ≈∆«»… ÀÃÕŒœ–—“”‘’÷◊ÿŸ⁄¤‹›ﬁﬂ‡·‚„‰ÂÊÁËÈÍÎÏÌÓÔ\0ÒÚÛÙıˆ˜¯˘˙˚¸˝˛ˇ";
const SYMBOL_LOW: &str =
    " !∀#∃%&∋()∗+,−./0123456789:;<=>?≅ΑΒΧΔΕΦΓΗΙϑΚΛΜΝΟΠΘΡΣΤΥςΩΞΨΖ[∴]⊥_‾αβχδεφγηιϕκλμνοπθρστυϖωξψζ{|}∼";
const SYMBOL_HIGH: &str = "\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0€ϒ′≤⁄∞ƒ♣♦♥♠↔←↑→↓°±″≥×∝∂•÷≠≡≈…⏐⎯↵ℵℑℜ℘⊗⊕∅∩∪⊃⊇⊄⊂⊆∈∉∠∇®©™∏√⋅¬∧∨⇔⇐⇑⇒⇓◊〈®©™∑⎛⎜⎝⎡⎢⎣⎧⎨⎩⎪\0〉∫⌠⎮⌡⎞⎟⎠⎤⎥⎦⎫⎬⎭\0";
const DINGBATS_LOW: &str =
    " ✁✂✃✄☎✆✇✈✉☛☞✌✍✎✏✐✑✒✓✔✕✖✗✘✙✚✛✜✝✞✟✠✡✢✣✤✥✦✧★✩✪✫✬✭✮✯✰✱✲✳✴✵✶✷✸✹✺✻✼✽✾✿❀❁❂❃❄❅❆❇❈❉❊❋●❍■❏❐❑❒▲▼◆❖◗❘❙❚❛❜❝❞";
const TEX_OLD_CONTROLS: &str = "ΓΔΘΛΞΠΣΥΦΨΩﬀﬁﬂﬃﬄıȷ`´ˇ˘¯˚¸ßæœøÆŒØ";
const TEX_CORK_CONTROLS: &str = "`´ˆ˜¨˝˚ˇ˘¯˙¸˛‚‹›“”„«»–—\0\0ıȷﬀﬁﬂﬃﬄ";
const TEX_CORK_HIGH: &str = "ĂĄĆČĎĚĘĞĹĽŁŃŇŊŐŔŘŚŠŞŤŢŰŮŸŹŽŻĲİđ§ăąćčďěęğĺľłńňŋőŕřśšşťţűůÿźžżĳ¡¿£ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖŒØÙÚÛÜÝÞẞàáâãäåæçèéêëìíîïðñòóôõöœøùúûüýþß";
const TEX_SIGNS_HIGH: &str = "˘ˇ˝̏†‡‖‰•℃$¢ƒ₡₩₦₲₱₤℞‽⸘₫™‱¶฿№⁒℮◦℠⁅⁆¢£¤¥¦§¨©ª\0¬℗®¯°±²³´µ¶·※¹º√¼½¾€\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0×\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0÷";

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_code(base: Base, code: u8, expected: Option<char>) {
        assert_eq!(base.table()[usize::from(code)], expected);
    }

    #[test]
    fn codes_above_ascii_differ_by_encoding() {
        check_code(Base::Win, 0xe9, Some('é'));
        check_code(Base::Doc, 0xe9, Some('é'));
        check_code(Base::Doc, 0x90, Some('’'));
        check_code(Base::Doc, 0x19, Some('ˇ'));
        check_code(Base::Doc, b'\r', Some('\r'));
        check_code(Base::Doc, 0x9f, None);
        check_code(Base::Doc, 0xff, Some('ÿ'));
        check_code(Base::Mac, 0x8e, Some('é'));
        check_code(Base::Standard, 0xae, Some('ﬁ'));
        check_code(Base::Standard, 0xe9, Some('Ø'));
        check_code(Base::TexCork, 0xe9, Some('é'));
        check_code(Base::TexOld, 0x0c, Some('ﬁ'));
        check_code(Base::TexOld, 0x7b, Some('–'));
        check_code(Base::TexCork, 0x1c, Some('ﬁ'));
        check_code(Base::TexSigns, 0xbd, Some('½'));
        check_code(Base::TexSigns, 0xd6, Some('×'));
        check_code(Base::TexSigns, b'3', Some('3'));
        check_code(Base::Symbol, 0x61, Some('α'));
        check_code(Base::Symbol, 0xb0, Some('°'));
    }

    #[test]
    fn an_unused_code_stands_for_nothing() {
        check_code(Base::Standard, 0x80, None);
        check_code(Base::Win, 0x07, None);
        check_code(Base::TexOld, 0xe9, None);
        check_code(Base::TexSigns, b'A', None);
        check_code(Base::TexSigns, 0xe9, None);
    }
}
