//! Files broken on purpose, through both back ends and through the whole room.

use std::fmt::Write;

use super::*;
use crate::pdf::content::Shared;
use crate::pdf::page::{self, Room};
use crate::pdf::{self, Page};

/// Writes a file of objects, those numbered from 1 on, with its table.
fn file(objects: &[String]) -> Vec<u8> {
    file_of(&objects.iter().map(|object| object.as_bytes().to_vec()).collect::<Vec<_>>())
}

fn file_of(objects: &[Vec<u8>]) -> Vec<u8> {
    let (mut bytes, mut table) = (b"%PDF-1.5\n".to_vec(), String::from("0000000000 65535 f \n"));
    for (number, object) in (1..).zip(objects) {
        writeln!(table, "{:010} 00000 n ", bytes.len()).expect("a string takes any text");
        bytes.extend([format!("{number} 0 obj\n").as_bytes(), object, b"\nendobj\n"].concat());
    }
    let (start, size) = (bytes.len(), objects.len() + 1);
    let end = format!("xref\n0 {size}\n{table}trailer<</Size {size}/Root 1 0 R>>\nstartxref\n{start}\n%%EOF");
    bytes.extend_from_slice(end.as_bytes());
    bytes
}

/// Returns the objects of a book whose pages have one word each.
fn book(words: &[&str]) -> Vec<String> {
    let kids: Vec<String> = (0..words.len()).map(|index| format!("{} 0 R", 4 + 2 * index)).collect();
    let mut objects = vec![
        "<</Type/Catalog/Pages 2 0 R>>".to_owned(),
        format!("<</Type/Pages/Kids[{}]/Count {}>>", kids.join(" "), kids.len()),
        "<</Type/Font/Subtype/Type1/BaseFont/Times-Roman>>".to_owned(),
    ];
    for (index, word) in words.iter().enumerate() {
        let content = format!("BT /F 10 Tf 10 50 Td ({word})Tj ET");
        objects.push(format!(
            "<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents {} 0 R/Resources<</Font<</F 3 0 R>>>>>>",
            5 + 2 * index
        ));
        objects.push(format!("<</Length {}>>stream\n{content}\nendstream", content.len()));
    }
    objects
}

fn said(page: &Page) -> String {
    let text: String = page.glyphs.iter().map(|glyph| glyph.character).collect();
    match &page.lost {
        Some(lost) => format!("{text}({lost})"),
        None => text,
    }
}

/// Returns what the pages say as a back end gives them, or why it gives none.
fn by(back_end: &dyn BackEnd, bytes: &[u8]) -> String {
    match open_with(back_end, &Arc::new(bytes.to_vec()), &|_| true) {
        Ok(file) => {
            let shared = Shared::new(&file.objects, bytes.len());
            let pages =
                file.pages.iter().map(|id| said(&page::read(&shared, *id, &mut Room::default()).page));
            pages.collect::<Vec<_>>().join(" | ")
        }
        Err(error) => error.to_string(),
    }
}

fn by_both(bytes: &[u8]) -> String {
    match pdf::read(bytes.to_vec(), &|_, _| {}) {
        Ok(document) => document.pages.iter().map(said).collect::<Vec<_>>().join(" | "),
        Err(error) => error.to_string(),
    }
}

/// Checks what the first back end, the second one and both together make of a file.
#[track_caller]
fn check(bytes: &[u8], [first, second, both]: [&str; 3]) {
    assert_eq!(by(FIRST, bytes), first, "by the first");
    assert_eq!(by(SECOND, bytes), second, "by the second");
    assert_eq!(by_both(bytes), both, "by both");
}

/// Returns a book of three pages with something in it written otherwise.
fn spoilt(from: &str, to: &str) -> Vec<u8> {
    let whole =
        String::from_utf8(file(&book(&["sedge", "rush", "fern"]))).expect("plain letters were written");
    assert!(whole.contains(from), "{from} is not in the file");
    whole.replacen(from, to, 1).into_bytes()
}

/// Returns a book of three pages whose table leads to a wrong place for one object.
fn misled(number: usize) -> Vec<u8> {
    let whole = spoilt("%PDF", "%PDF");
    let at = place_of(&whole, format!("\n{number} 0 obj").as_bytes()).expect("the object is there") + 1;
    spoilt(&format!("{at:010} 00000 n"), "0000000003 00000 n")
}

/// Writes a file of objects, some of them packed into one, whose place is told by packed data too.
fn packed(objects: &[String], inside: &[usize], spoil: &dyn Fn(String) -> String) -> Vec<u8> {
    let (mut heads, mut bodies) = (String::new(), String::new());
    for &number in inside {
        write!(heads, "{number} {} ", bodies.len()).expect("a string takes any text");
        write!(bodies, "{} ", objects[number - 1]).expect("a string takes any text");
    }
    let (first, length) = (heads.len(), heads.len() + bodies.len());
    let pack = format!(
        "<</Type/ObjStm/N {}/First {first}/Length {length}>>stream\n{heads}{bodies}\nendstream",
        inside.len()
    );
    let pack_number = objects.len() + 1;
    let mut bytes = b"%PDF-1.5\n".to_vec();
    let mut table = vec![[0, 0, 0, 0, 0, 0, 0]];
    for (number, object) in (1..).zip(objects.iter().chain([&spoil(pack)])) {
        if let Some(at) = inside.iter().position(|inside| *inside == number) {
            table.push([2, 0, 0, 0, pack_number as u8, 0, at as u8]);
            continue;
        }
        let [a, b, c, d] = (bytes.len() as u32).to_be_bytes();
        table.push([1, a, b, c, d, 0, 0]);
        bytes.extend_from_slice(format!("{number} 0 obj\n{object}\nendobj\n").as_bytes());
    }
    let (start, size) = (bytes.len(), pack_number + 1);
    let table = table.concat();
    let head = format!(
        "{size} 0 obj\n<</Type/XRef/W[1 4 2]/Size {size}/Root 1 0 R/Length {}>>stream\n",
        table.len()
    );
    bytes.extend_from_slice(head.as_bytes());
    bytes.extend_from_slice(&table);
    bytes.extend_from_slice(format!("\nendstream\nendobj\nstartxref\n{start}\n%%EOF").as_bytes());
    bytes
}

#[test]
fn a_sound_file_is_the_same_by_both_back_ends() {
    let words = "sedge | rush | fern";
    check(&file(&book(&["sedge", "rush", "fern"])), [words; 3]);
    let objects = book(&["sedge", "rush", "fern"]);
    check(&packed(&objects, &[1, 2, 3, 4, 6, 8], &|pack| pack), [words; 3]);
}

#[test]
fn one_bad_page_among_good_ones_is_read_by_the_second_back_end() {
    let whole = "sedge | rush | fern";
    check(&misled(7), ["sedge | (the page's content is damaged) | fern", whole, whole]);
    check(&misled(6), ["sedge | (the page is missing from the file) | fern", whole, whole]);
}

#[test]
fn notes_are_read_by_both_back_ends() {
    let note = "<</Subtype/FreeText/P 6 0 R/Rect[0 0 100 20]/AP<</N 11 0 R>>>>";
    let form =
        "<</Subtype/Form/BBox[0 0 100 20]/Length 31>>stream\nBT /F 10 Tf 2 2 Td ( moss)Tj ET\nendstream";
    let mut objects = book(&["sedge", "rush", "fern"]);
    objects[0] =
        "<</Type/Catalog/Pages 2 0 R/AcroForm<</Fields[10 0 R]/DR<</Font<</F 3 0 R>>>>>>>>".to_owned();
    objects[5] = objects[5].replace("/Type/Page/", "/Type/Page/Annots[10 0 R]/");
    objects.extend([note.to_owned(), form.to_owned()]);
    check(&file(&objects), ["sedge | rush moss | fern"; 3]);
}

#[test]
fn a_font_of_any_name_is_read_by_both_back_ends() {
    let named = String::from_utf8(spoilt("%PDF", "%PDF")).expect("plain letters were written");
    let named = named.replace("/Font<</F ", "/Font<</P ").replace("BT /F ", "BT /P ");
    check(named.as_bytes(), ["sedge | rush | fern"; 3]);
}

#[test]
fn a_length_far_too_long_loses_nothing() {
    let bytes = spoilt(
        "<</Length 32>>stream\nBT /F 10 Tf 10 50 Td (rush",
        "<</Length 99999>>stream\nBT /F 10 Tf 10 50 Td (rush",
    );
    let first = "sedge | (the page's content is damaged) | (the page is missing from the file)";
    check(&bytes, [first, "sedge | rush | fern", "sedge | rush | fern"]);
}

#[test]
fn pages_written_into_the_tree_are_read_by_the_second_back_end() {
    let mut objects = book(&["sedge", "rush"]);
    objects[1] = objects[1].replace("4 0 R", &objects[3]);
    objects[3] = "null".to_owned();
    check(&file(&objects), ["rush", "sedge | rush", "sedge | rush"]);
    objects[1] = objects[1].replace("6 0 R", &objects[5]);
    objects[5] = "null".to_owned();
    check(&file(&objects), [&Error::NoPages.to_string(), "sedge | rush", "sedge | rush"]);
}

#[test]
fn broken_packed_objects_are_read_by_the_second_back_end() {
    let objects = book(&["sedge", "rush", "fern"]);
    let whole = "sedge | rush | fern";
    for part in ["/Type/ObjStm", "/Length"] {
        let bytes = packed(&objects, &[1, 2, 3, 4, 6, 8], &|pack| pack.replacen(part, "", 1));
        check(&bytes, [&Error::NoPages.to_string(), whole, whole]);
    }
}

#[test]
fn what_neither_back_end_finds_is_said_of_its_page() {
    let lost = "sedge | (the page's content is damaged) | fern";
    check(&spoilt("\n7 0 obj", "\nx 0 obj"), [lost; 3]);
    let lost = "sedge | (the page is missing from the file) | fern";
    check(&spoilt("\n6 0 obj", "\nx 0 obj"), [lost, "sedge | fern", lost]);
    let lost = "sedge | (the font of 4 of its signs is missing) | fern";
    check(&spoilt("/F 10 Tf 10 50 Td (rush", "/G 10 Tf 10 50 Td (rush"), [lost; 3]);
}

fn deflated(parts: &[u8], times: usize) -> Vec<u8> {
    use std::io::Write;
    let mut writer = flate2::write::ZlibEncoder::new(Vec::new(), flate2::Compression::best());
    (0..times).for_each(|_| writer.write_all(parts).expect("a vector takes all"));
    writer.finish().expect("a vector takes all")
}

/// Returns a file with packed objects that unpack to 300 MiB; they say of themselves only what is given.
fn swelling(kind: &str, trailer: &str) -> Vec<u8> {
    swelling_by(&[kind, "/Filter/FlateDecode"].concat(), trailer, &deflated(&[0; 1 << 10], 300 << 10))
}

fn swelling_by(kind: &str, trailer: &str, data: &[u8]) -> Vec<u8> {
    let head = format!("%PDF-1.5\n1 0 obj<</N 9/First 9{kind}/Length {}>>stream\n", data.len());
    let mut bytes = head.into_bytes();
    bytes.extend_from_slice(data);
    bytes.extend_from_slice(format!("\nendstream endobj trailer<</Root 2 0 R{trailer}>>").as_bytes());
    bytes
}

#[test]
fn a_file_made_to_swell_is_not_given_to_the_second_back_end() {
    assert!(by(SECOND, &swelling("/Type/ObjStm", "")).contains("more than is sensible"));
    assert!(by(SECOND, &swelling("", "")).contains("more than is sensible"));
}

#[test]
fn whatever_hides_that_a_file_swells_it_is_measured() {
    let (zeros, way) = (deflated(&[0; 1 << 10], 300 << 10), "/Filter/FlateDecode");
    let long = format!("/Pad({}){way}", "x".repeat(5000));
    let twice = "/Filter[/FlateDecode/FlateDecode]";
    let hidden = [
        ("/Type/ObjSt#6d/Fil#74er/FlateDecode", zeros.clone()),
        (long.as_str(), zeros.clone()),
        ("/Pad(stream)/Pad(obj<<>>)/Filter/Flate#44ecode", zeros.clone()),
        (twice, deflated(&zeros, 1)),
        ("/F[/Fl/F#6c]", deflated(&zeros, 1)),
        (way, deflated(b"1 1 ", 20 << 20)),
    ];
    for (kind, data) in hidden {
        let said = by(SECOND, &swelling_by(kind, "", &data));
        assert!(said.contains("more than is sensible"), "{kind}: {said}");
    }
    let said = by(SECOND, &swelling_by("/Filter 3 0 R", "", &deflated(&zeros, 1)));
    assert!(said.contains("can't be told"), "{said}");
    let said = by(SECOND, &swelling("", "/Encr#79pt 3 0 R"));
    assert!(said.contains("can't be measured"), "{said}");
}

fn packed_stream(said: &str, data: &[u8]) -> Vec<u8> {
    let head = format!("<<{said}/Filter/FlateDecode/Length {}>>stream\n", data.len());
    [head.as_bytes(), data, b"\nendstream"].concat()
}

/// Each of these lists would be read to more than 200 MB, from some kilobytes.
#[test]
fn packed_objects_of_many_parts_are_let_go_by_the_first_back_end() {
    let list = |number: usize| {
        let data = deflated(&[format!("{number} 0 [").as_bytes(), &b"0 ".repeat(2 << 20)].concat(), 1);
        packed_stream("/Type/ObjStm/N 1/First 6", &data)
    };
    let mut objects: Vec<Vec<u8>> = book(&["rush"]).into_iter().map(String::into_bytes).collect();
    objects.extend([list(100), list(101)]);
    let Ok(file) = open_with(FIRST, &Arc::new(file_of(&objects)), &|_| true) else {
        panic!("the file is sound")
    };
    assert_eq!((file.pages.len(), file.objects.objects.contains_key(&(100, 0))), (1, false));
}

#[test]
fn content_that_pages_share_is_unpacked_only_so_often() {
    let mut objects = book(&["rush"]);
    objects[3] = objects[3].replace("/Font", "/XObject<</X 6 0 R>>/Font");
    let calls = "/X Do ".repeat(500);
    objects[4] = format!("<</Length {}>>stream\n{calls}\nendstream", calls.len());
    let mut objects: Vec<Vec<u8>> = objects.into_iter().map(String::into_bytes).collect();
    objects.push(packed_stream("/Subtype/Form/BBox[0 0 9 9]", &deflated(&[b' '; 1 << 10], 60 << 10)));
    let said = by_both(&file_of(&objects));
    assert!(said.contains("more content than is sensible"), "{said}");
}

#[test]
fn packed_objects_under_a_lock_are_not_given_to_the_second_back_end() {
    let locked = swelling("/Type/ObjStm", "/Encrypt 3 0 R");
    assert!(by(SECOND, &locked).contains("can't be measured"), "{}", by(SECOND, &locked));
    let objects = book(&["sedge", "rush"]);
    let whole = packed(&objects, &[1, 2, 3, 4, 6], &|pack| pack);
    assert_eq!(by(SECOND, &whole), "sedge | rush", "without a lock they are read");
    let lock = |pack: String| pack.replacen("/N ", "/Encrypt 3 0 R/N ", 1);
    assert!(by(SECOND, &packed(&objects, &[1, 2, 3, 4, 6], &lock)).contains("can't be measured"));
}
