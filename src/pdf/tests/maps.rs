//! Maps to Unicode that are damaged or say nothing: what else a font says is believed instead.

use super::*;

/// Checks what a font with an encoding says whose map to Unicode is that object.
#[track_caller]
fn check_map(map: &str, expected: &str) {
    let font = "/F<</Type/Font/Subtype/Type1/BaseFont/X/ToUnicode 11 0 R\
                /Encoding<</Differences[65/fi/eacute/C/D/E/F]>>>>";
    check_text("BT /F 10 Tf 10 50 Td (ABCDEF)Tj ET", font, &["null", map], expected);
}

fn map(lines: &str) -> String {
    let map = format!("1 begincodespacerange <00> <ff> endcodespacerange {lines}");
    format!("<</Length {}>>stream\n{map}\nendstream", map.len())
}

#[test]
fn a_map_that_can_not_be_read_is_as_if_it_were_missing() {
    check_map("<</Length 9/Filter/FlateDecode>>stream\nno flate!\nendstream", "fiéCDEF");
    check_map("<</Length 9/Filter/NoSuch>>stream\nno filter\nendstream", "fiéCDEF");
    check_map("<</Length 31>>stream\n)(>< beginbfchar endbfrange 7 ]]\nendstream", "fiéCDEF");
    check_map("/Identity-H", "fiéCDEF");
    check_map(&map("6 beginbfchar <41> <42>"), "fiéCDEF");
}

#[test]
fn a_map_of_mostly_no_letters_is_believed_after_everything_else() {
    check_map(&map("1 beginbfrange <41> <46> <fffd> endbfrange"), "fiéCDEF");
    check_map(
        &map("1 beginbfrange <41> <45> <e041> endbfrange 1 beginbfchar <46> <0078> endbfchar"),
        "fiéCDEF",
    );
    check_map(&map("1 beginbfrange <41> <46> [<20><20><20><20><20><20>] endbfrange"), "fiéCDEF");
    // A sign that only the map knows comes from it all the same.
    let only = "1 beginbfrange <47> <4c> <e041> endbfrange 1 beginbfchar <81> <2640> endbfchar";
    let font = "/F<</Type/Font/Subtype/Type1/BaseFont/X/ToUnicode 11 0 R>>";
    check_text("BT /F 10 Tf 10 50 Td (AB\\201)Tj ET", font, &["null", &map(only)], "AB♀");
}

#[test]
fn a_sound_map_is_believed_first() {
    check_map(&map("1 beginbfrange <41> <46> <0061> endbfrange"), "abcdef");
    check_map(&map("2 beginbfchar <41> <0078> <42> <e000> endbfchar"), "xéCDEF");
}

#[test]
fn letters_whose_bytes_are_the_wrong_way_round_are_turned_where_a_code_has_several() {
    check_map(&map("2 beginbfchar <41> <66006900> <42> <660066006c00> endbfchar"), "fifflCDEF");
    check_map(&map("2 beginbfchar <41> <6600cf00> <42> <6600d200> endbfchar"), "ffifflCDEF");
    check_map(&map("2 beginbfchar <41> <6600> <42> <66006c01> endbfchar"), "\u{6600}\u{6600}\u{6c01}CDEF");
}

#[test]
fn a_font_of_two_bytes_with_a_damaged_map_says_what_it_can() {
    let font = "/F<</Type/Font/Subtype/Type0/BaseFont/X/Encoding/UniXX-UCS2-H/ToUnicode 11 0 R/DescendantFonts[12 0 R]>>";
    let descendant = "<</Type/Font/Subtype/CIDFontType2/BaseFont/X>>";
    let damaged = map("1 beginbfrange <0041> <0046> <fffd> endbfrange");
    let content = "BT /F 10 Tf 10 50 Td <004100420043>Tj ET";
    check_text(content, font, &["null", &damaged, descendant], "ABC");
    let mostly = map("1 beginbfrange <0042> <0046> <e000> endbfrange 1 beginbfchar <0041> <0078> endbfchar");
    check_text(content, font, &["null", &mostly, descendant], "ABC");
    let nothing = font.replace("UniXX-UCS2-H", "Identity-H");
    let content = "BT /F 10 Tf 10 50 Td <004100420043004400450046>Tj ET";
    let what = "its font does not say which letters 6 of its signs are".to_owned();
    check_error(&file(content, &nothing, &["null", &damaged, descendant]), &Error::Unreadable { what });
}
