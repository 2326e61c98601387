//! Notes, stamps and form fields laid over a page: which of them are read, and where they stand.

use super::*;

/// Returns a page that says `body` and has one annotation with that in its dictionary; other objects follow from 11 on.
fn with_annotation(said: &str, others: &[&str]) -> Page {
    let annotation = ["<</Type/Annot/Rect[50 30 150 50]", said, ">>"].concat();
    let others: Vec<&str> = std::iter::once(annotation.as_str()).chain(others.iter().copied()).collect();
    let whole = file("BT /F 10 Tf 10 80 Td (body )Tj ET", SERIF, &others);
    let whole = String::from_utf8(whole).expect("the file is written in plain letters");
    // The table of objects no longer fits, and is made anew.
    let whole = whole.replace("/Type/Page/", "/Type/Page/Annots[10 0 R]/");
    let fields = format!("/Type/Catalog/AcroForm<</Fields[10 0 R]/DR<</Font<<{SERIF}>>>>>>");
    one_page(whole.replace("/Type/Catalog", &fields).into_bytes())
}

/// Returns an appearance that shows a word.
fn appearance(word: &str, said: &str) -> String {
    let content = format!("BT /F 10 Tf 2 5 Td ({word})Tj ET");
    let resources = format!("/Resources<</Font<<{SERIF}>>>>");
    let length = content.len();
    format!("<</Subtype/Form/BBox[0 0 100 20]{resources}{said}/Length {length}>>stream\n{content}\nendstream")
}

#[track_caller]
fn check_annotation(said: &str, expected: &str) {
    let (on, off) = (appearance("note", ""), appearance("off", ""));
    assert_eq!(text(&with_annotation(said, &[&on, &off])), expected, "{said}");
}

#[test]
fn notes_stamps_and_fields_are_read_as_they_appear() {
    for kind in ["FreeText", "Stamp", "Widget", "Watermark", "Text", "Own"] {
        check_annotation(&format!("/Subtype/{kind}/F 4/AP<</N 11 0 R>>"), "body note");
        check_annotation(&format!("/Subtype/{kind}/AP<</N 11 0 R>>"), "body note");
    }
    check_annotation("/Subtype/Link/AP<</N 11 0 R>>", "body ");
    check_annotation("/Subtype/Popup/AP<</N 11 0 R>>", "body ");
    check_annotation("/Subtype/FreeText/AP<</N 9 0 R>>", "body ");
}

#[test]
fn an_annotation_that_is_not_to_be_seen_is_not_read() {
    check_annotation("/Subtype/FreeText/F 2/AP<</N 11 0 R>>", "body ");
    check_annotation("/Subtype/FreeText/F 36/AP<</N 11 0 R>>", "body ");
    // The flag of invisibility is only for kinds that a reader doesn't know.
    check_annotation("/Subtype/FreeText/F 1/AP<</N 11 0 R>>", "body note");
    check_annotation("/Subtype/Own/F 1/AP<</N 11 0 R>>", "body ");
}

#[test]
fn of_several_states_the_one_that_holds_is_read() {
    let states = "/Subtype/Widget/AP<</N<</Yes 11 0 R/Off 12 0 R>>>>";
    check_annotation(&["/AS/Yes", states].concat(), "body note");
    check_annotation(&["/AS/Off", states].concat(), "body off");
    check_annotation(&["/AS/Other", states].concat(), "body ");
    check_annotation(states, "body ");
}

/// Checks where the appearance's second letter stands, and how it is set.
#[track_caller]
fn check_place(rect: &str, form: &str, (x, y): (f32, f32), (size, turn): (f32, u8)) {
    let on = appearance("AA", form).replace("2 5 Td", "0 0 Td");
    let said = format!("/Subtype/Stamp/AP<</N 11 0 R>>/Rect[{rect}]");
    let said = with_annotation(&said, &[&on]);
    let span = &said.spans[1];
    let second = said.glyphs[span.glyphs.start as usize + 1];
    assert_eq!((span.size, span.turn), (size, turn));
    assert!((second.x - x).abs() < 0.01 && (span.y - y).abs() < 0.01, "{} {}", second.x, span.y);
}

/// A is 0.722 em wide in the standard serif.
#[test]
fn an_appearance_is_fitted_into_its_rectangle() {
    check_place("50 30 150 50", "", (57.22, 70.0), (10.0, 0));
    check_place("50 30 100 40", "", (53.61, 70.0), (5.0, 0));
    check_place("150 50 50 30", "/Matrix[1 0 0 1 7 9]", (57.22, 70.0), (10.0, 0));
    check_place("50 0 70 100", "/Matrix[0 1 -1 0 0 0]", (7.22, 70.0), (10.0, 1));
}

#[test]
fn a_field_without_appearance_says_its_value() {
    check_annotation("/Subtype/Widget/FT/Tx/V(red sedge)/DA(/F 10 Tf 0 g)", "body red sedge");
    check_annotation("/Subtype/FreeText/Contents<FEFF2640>/DA(0 g /F 10 Tf)", "body ♀");
    check_annotation("/Subtype/Widget/FT/Tx/V(secret)/Ff 8192", "body ");
    check_annotation("/Subtype/Widget/Parent<</FT/Tx/V(above)>>", "body above");
    check_annotation("/Subtype/Text/Contents(said elsewhere)", "body ");
    check_annotation("/Subtype/Widget/FT/Btn/V/Yes", "body ");
}

#[test]
fn a_long_value_is_broken_into_lines_within_its_rectangle() {
    let said = "/Subtype/FreeText/Contents(first line\\rsecond line goes on and on)/DA(/F 10 Tf)";
    let page = with_annotation(said, &[]);
    let lines: Vec<String> = page.spans[1..]
        .iter()
        .map(|span| page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize].iter())
        .map(|glyphs| glyphs.map(|glyph| glyph.character).collect())
        .collect();
    assert_eq!(lines, ["first line", "second line goes on", "and on"]);
    assert!(page.glyphs.iter().all(|glyph| glyph.x + glyph.width <= 150.0));
}

#[test]
fn what_an_annotation_draws_is_no_picture_of_the_page() {
    let on = appearance("note", "").replace("BT /F 10 Tf 2 5 Td", "1 1 90 15 re f BT /F 9 Tf");
    let page = with_annotation("/Subtype/Stamp/AP<</N 11 0 R>>/Rect[0 0 200 80]", &[&on]);
    assert_eq!((page.pictures.len(), page.rules.len()), (0, 0));
}
