//! Files of a few objects, written here, through the whole of the room.

use std::fmt::Write as _;

use super::*;

/// Writes a file whose page has that content and those fonts; other objects follow from number 10 on.
fn file(content: &str, fonts: &str, others: &[&str]) -> Vec<u8> {
    let mut objects = vec![
        (1, "<</Type/Catalog/Pages 2 0 R>>".to_owned()),
        (2, "<</Type/Pages/Kids[3 0 R]/Count 1>>".to_owned()),
        (
            3,
            format!(
                "<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents 4 0 R\
                 /Resources<</Font<<{fonts}>>/XObject<</X 10 0 R>>>>>>"
            ),
        ),
        (4, format!("<</Length {}>>stream\n{content}\nendstream", content.len() + 1)),
    ];
    objects.extend((10..).zip(others.iter().map(|other| (*other).to_owned())));
    let mut bytes = String::from("%PDF-1.5\n");
    let mut table = String::new();
    for (number, object) in &objects {
        write!(table, "{number} 1\n{:010} 00000 n \n", bytes.len()).expect("a string takes all");
        write!(bytes, "{number} 0 obj\n{object}\nendobj\n").expect("a string takes all");
    }
    let start = bytes.len();
    let trailer = format!("trailer<</Size 40/Root 1 0 R>>\nstartxref\n{start}\n%%EOF");
    bytes.push_str(&["xref\n0 1\n0000000000 65535 f \n", &table, &trailer].concat());
    bytes.into_bytes()
}

mod annotations;
mod maps;
mod strange;

const SERIF: &str = "/F<</Type/Font/Subtype/Type1/BaseFont/Times-Roman>>";

fn one_page(bytes: Vec<u8>) -> Page {
    read(bytes, &|_, _| {}).expect("the file is sound").pages.remove(0)
}

fn text(page: &Page) -> String {
    let glyphs =
        page.spans.iter().flat_map(|span| &page.glyphs[span.glyphs.start as usize..span.glyphs.end as usize]);
    glyphs.map(|glyph| glyph.character).collect()
}

#[track_caller]
fn check_text(content: &str, fonts: &str, others: &[&str], expected: &str) {
    assert_eq!(text(&one_page(file(content, fonts, others))), expected);
}

#[test]
fn every_operator_that_shows_text_is_followed() {
    check_text("BT /F 10 Tf 12 TL 10 80 Td (a)Tj [(b)-9(c)]TJ (d)' 1 2 (e)\" ET", SERIF, &[], "abcde");
}

#[test]
fn a_glyph_stands_where_the_matrices_put_it() {
    let page = one_page(file("2 0 0 2 0 0 cm BT /F 5 Tf 1 0 0 1 20 30 Tm (AB)Tj ET", SERIF, &[]));
    let (span, second) = (&page.spans[0], page.glyphs[1]);
    assert_eq!((span.size, span.y), (10.0, 40.0));
    // A is 0.722 em wide in the standard serif.
    assert!((second.x - 47.22).abs() < 0.01, "{}", second.x);
}

#[test]
fn text_that_runs_upwards_is_kept_as_on_the_page_turned_back() {
    let page = one_page(file("BT /F 10 Tf 0 1 -1 0 50 20 Tm (up)Tj ET", SERIF, &[]));
    let span = &page.spans[0];
    assert_eq!((span.turn, span.y, page.glyphs[0].x), (1, 50.0, 20.0));
}

#[test]
fn differences_and_glyph_names_give_text() {
    let font = "/F<</Type/Font/Subtype/Type1/BaseFont/X/Encoding<</Differences[65/fi/eacute/uni2640]>>>>";
    check_text("BT /F 10 Tf 10 50 Td (ABC)Tj ET", font, &[], "fié♀");
}

#[test]
fn a_map_to_unicode_is_believed_before_the_encoding() {
    let font = "/F<</Type/Font/Subtype/Type1/BaseFont/X/ToUnicode 11 0 R>>";
    let map = "2 beginbfchar <41> <00660066> <43> <fb01> endbfchar";
    let map = format!("<</Length {}>>stream\n{map}\nendstream", map.len());
    check_text("BT /F 10 Tf 10 50 Td (ABC)Tj ET", font, &["null", &map], "ffBfi");
}

#[test]
fn codes_of_two_bytes_are_read_by_their_map() {
    let font = "/F<</Type/Font/Subtype/Type0/BaseFont/X/Encoding/Identity-H/ToUnicode 11 0 R/DescendantFonts[12 0 R]>>";
    let map = "1 beginbfrange <0003> <0005> <0061> endbfrange";
    let map = format!("<</Length {}>>stream\n{map}\nendstream", map.len());
    let descendant = "<</Type/Font/Subtype/CIDFontType2/BaseFont/X/DW 500/W[4[250]]>>";
    let page = one_page(file("BT /F 10 Tf 10 50 Td <000300040005>Tj ET", font, &["null", &map, descendant]));
    assert_eq!(text(&page), "abc");
    let widths: Vec<String> = page.glyphs.iter().map(|glyph| format!("{:.1}", glyph.width)).collect();
    assert_eq!(widths, ["5.0", "2.5", "5.0"]);
}

#[test]
fn a_form_is_read_in_its_place_and_one_that_calls_itself_only_once() {
    let form = "(in)Tj /X Do";
    let form = format!(
        "<</Type/XObject/Subtype/Form/Resources<</XObject<</X 10 0 R>>>>/Length {}>>stream\n{form}\nendstream",
        form.len()
    );
    check_text("BT /F 10 Tf 10 50 Td (a)Tj /X Do (b)Tj ET", SERIF, &[&form], "ainb");
}

#[test]
fn actual_text_stands_for_what_is_shown() {
    check_text("BT /F 10 Tf 10 50 Td (x)Tj /Span<</ActualText(yes)>>BDC (no)Tj EMC ET", SERIF, &[], "xyes");
}

#[test]
fn unseen_text_stays_only_where_nothing_can_be_seen() {
    check_text("BT /F 10 Tf 3 Tr 10 50 Td (under the picture)Tj ET", SERIF, &[], "under the picture");
    check_text("BT /F 10 Tf 10 50 Td (seen)Tj 3 Tr (seen)Tj ET", SERIF, &[], "seen");
}

#[test]
fn what_the_file_marks_as_furniture_is_told_apart() {
    let page =
        one_page(file("/Artifact BMC BT /F 10 Tf 10 90 Td (7)Tj ET EMC BT 10 50 Td (x)Tj ET", SERIF, &[]));
    assert_eq!([page.spans[0].role, page.spans[1].role], [Role::Furniture, Role::Text]);
}

#[test]
fn a_frame_is_kept_as_a_picture_and_a_line_as_a_rule() {
    let page = one_page(file("10 10 80 40 re S 10 5 m 110 5 l S BT /F 10 Tf 10 90 Td (x)Tj ET", SERIF, &[]));
    assert_eq!(page.pictures, [Area { left: 10.0, top: 50.0, right: 90.0, bottom: 90.0 }]);
    assert_eq!(page.rules, [Rule { from: (10.0, 95.0), to: (110.0, 95.0) }]);
}

#[test]
fn a_stream_that_does_not_say_its_length_goes_on_to_its_end() {
    let whole = file("BT /F 10 Tf 10 50 Td (told)Tj ET", SERIF, &[]);
    let whole = String::from_utf8(whole).expect("the file is written in plain letters");
    let spoilt = whole.replace("/Length 33", "/Lengte 33");
    assert_ne!(spoilt, whole);
    assert_eq!(text(&one_page(spoilt.into_bytes())), "told");
}

#[test]
fn pages_that_the_tree_does_not_lead_to_are_read_all_the_same() {
    let whole = file("BT /F 10 Tf 10 50 Td (found)Tj ET", SERIF, &[]);
    let whole = String::from_utf8(whole).expect("the file is written in plain letters");
    let spoilt = whole.replace("/Kids[3 0 R]", "/Kids[2 0 R]");
    assert_eq!(text(&one_page(spoilt.into_bytes())), "found");
}

#[test]
fn a_font_that_hides_its_letters_is_said_to() {
    let font = "/F<</Type/Font/Subtype/Type0/BaseFont/X/Encoding/Identity-H/DescendantFonts[12 0 R]>>";
    let descendant = "<</Type/Font/Subtype/CIDFontType2/BaseFont/X>>";
    let content = "BT /F 10 Tf 10 50 Td <000300040005000600070008>Tj ET";
    let what = "its font does not say which letters 6 of its signs are".to_owned();
    check_error(&file(content, font, &["null", "null", descendant]), &Error::Unreadable { what });
}

#[track_caller]
fn check_error(bytes: &[u8], expected: &Error) {
    assert_eq!(read(bytes.to_vec(), &|_, _| {}).as_ref(), Err(expected));
}

#[test]
fn a_file_that_gives_no_book_says_why() {
    check_error(b"", &Error::Empty);
    check_error(b"just some words", &Error::NotPdf);
    check_error(&file("10 10 m", SERIF, &[]), &Error::NoText { pages: 1 });
}

#[test]
fn every_error_is_one_sentence_in_small_letters() {
    let unreadable = Error::Unreadable { what: "its font hides its letters".into() };
    for error in [
        Error::NotPdf,
        Error::Empty,
        Error::NeedsPassword,
        Error::NoPages,
        Error::NoText { pages: 3 },
        unreadable,
    ] {
        let sentence = error.to_string();
        assert!(sentence.starts_with(char::is_lowercase) && !sentence.ends_with('.'), "{sentence}");
    }
}

#[test]
fn a_file_cut_short_or_spoilt_never_panics() {
    let whole = file("BT /F 10 Tf 10 50 Td (some words)Tj ET", SERIF, &[]);
    for cut in (0..whole.len()).step_by(7) {
        let _ = read(whole[..cut].to_vec(), &|_, _| {});
        let mut spoilt = whole.clone();
        spoilt[cut] ^= 0x15;
        let _ = read(spoilt, &|_, _| {});
    }
}

#[test]
fn a_line_drawn_twice_is_one_and_bold_where_it_was_moved() {
    let twice = "BT /F 10 Tf 10 50 Td (two words)Tj ET BT 10.3 50 Td (two words)Tj ET";
    let page = one_page(file(twice, SERIF, &[]));
    assert_eq!((text(&page).as_str(), page.spans[0].face.bold), ("two words", true));
    let page = one_page(file("BT /F 10 Tf 10 50 Td (ab ab)Tj ET BT 60 50 Td (ab ab)Tj ET", SERIF, &[]));
    assert_eq!((text(&page).as_str(), page.spans[0].face.bold), ("ab abab ab", false));
}

#[test]
fn white_on_white_is_not_seen_and_white_on_a_colour_is() {
    check_text("BT /F 10 Tf 10 50 Td (ink)Tj 1 g ( white)Tj 0 0 0 0 k (too)Tj ET", SERIF, &[], "ink");
    check_text("0 g 0 40 200 30 re f BT /F 10 Tf 10 50 Td 1 g (heading)Tj ET", SERIF, &[], "heading");
    check_text("q 1 g Q BT /F 10 Tf 10 50 Td (ink)Tj ET", SERIF, &[], "ink");
}

#[test]
fn what_is_clipped_away_or_off_the_page_is_left_out() {
    let clip =
        "BT /F 10 Tf 10 50 Td (a)Tj ET q 0 40 100 40 re W n BT /F 10 Tf 20 50 Td (b)Tj 100 0 Td (c)Tj ET Q";
    check_text(&[clip, " BT /F 10 Tf 130 50 Td (d)Tj 100 0 Td (e)Tj ET"].concat(), SERIF, &[], "abd");
}

#[test]
fn an_accent_set_over_its_letter_is_part_of_it() {
    let font = "/F<</Type/Font/Subtype/Type1/BaseFont/X/FirstChar 65/Widths[500 500 280 444 500 600]\
                /Encoding<</Differences[65/acute/e/dotlessi/c/cedilla/E]>>>>";
    check_text("BT /F 10 Tf 10 50 Td [(BA)500(BC)]TJ ET", font, &[], "eéı");
    check_text("BT /F 10 Tf 10 50 Td [(B)-110(A)390(C)]TJ ET", font, &[], "eí");
    check_text("BT /F 10 Tf 10 50 Td [(D)472(E)]TJ ET", font, &[], "ç");
    check_text("BT /F 10 Tf 10 50 Td (B)Tj 2 Ts (A)Tj 0 Ts [440(F)]TJ ET", font, &[], "eÉ");
    check_text("BT /F 10 Tf 10 50 Td (BAB)Tj ET", font, &[], "e´e");
}

#[test]
fn a_negative_size_in_a_turned_matrix_is_upright() {
    let page = one_page(file("BT /F -10 Tf -1 0 0 -1 20 30 Tm (AB)Tj ET", SERIF, &[]));
    assert_eq!((text(&page).as_str(), page.spans[0].turn, page.spans[0].size), ("AB", 0, 10.0));
    assert!(page.glyphs[1].x > page.glyphs[0].x);
}

#[test]
fn a_layer_that_is_off_is_not_read() {
    let layer = |catalog: &str, group: &str| {
        let content = "/OC /L BDC BT /F 10 Tf 10 50 Td (off)Tj ET EMC BT /F 10 Tf 10 50 Td (on)Tj ET";
        let whole = String::from_utf8(file(content, SERIF, &["null", "<</Type/OCG/Name(x)>>", group]));
        let whole = whole.expect("the file is written in plain letters");
        // The table of objects no longer fits, and is made anew.
        let whole = whole.replace(
            "/Type/Catalog",
            &["/Type/Catalog/OCProperties<</OCGs[11 0 R]/D<<", catalog, ">>>>"].concat(),
        );
        whole.replace("/XObject<<", "/Properties<</L 12 0 R>>/XObject<<").into_bytes()
    };
    let group = "<</Type/OCMD/OCGs 11 0 R>>";
    assert_eq!(text(&one_page(layer("/OFF[11 0 R]", group))), "on");
    assert_eq!(text(&one_page(layer("/BaseState/OFF", group))), "on");
    assert_eq!(text(&one_page(layer("/OFF[11 0 R]", "<</Type/OCMD/OCGs[11 0 R]/P/AnyOff>>"))), "offon");
    assert_eq!(text(&one_page(layer("", group))), "offon");
}

#[test]
fn a_layer_is_shown_as_where_it_is_printed() {
    let layer = |usual: &str, state: &str| {
        let content = "/OC /L BDC BT /F 10 Tf 10 50 Td (note)Tj ET EMC BT /F 10 Tf 10 50 Td (text)Tj ET";
        let group = format!("<</Type/OCG/Name(x)/Usage<</Print<</PrintState/{state}>>>>>>");
        let whole = String::from_utf8(file(content, SERIF, &["null", &group]));
        let whole = whole.expect("the file is written in plain letters");
        let properties = format!("/Type/Catalog/OCProperties<</OCGs[11 0 R]/D<<{usual}>>>>");
        let whole = whole.replace("/Type/Catalog", &properties);
        whole.replace("/XObject<<", "/Properties<</L 11 0 R>>/XObject<<").into_bytes()
    };
    let print = "/AS[<</Event/Print/Category[/Print]/OCGs[11 0 R]>>]";
    assert_eq!(text(&one_page(layer("", "OFF"))), "notetext", "nothing says that it is switched");
    assert_eq!(text(&one_page(layer(print, "OFF"))), "text");
    assert_eq!(text(&one_page(layer(&["/OFF[11 0 R]", print].concat(), "ON"))), "notetext");
    assert_eq!(text(&one_page(layer("/AS[<</Event/View/OCGs[11 0 R]>>]", "OFF"))), "notetext");
}
