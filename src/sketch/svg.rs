//! Strokes and areas in, an SVG document out; black on white, at any size.

use std::fmt::Write;

use crate::sketch::curve::At;
use crate::sketch::grid::FRAME;
use crate::sketch::pen::{Mark, Tone, Weight};

/// Returns the document of a drawing with its title.
pub(super) fn document(title: &str, marks: &[Mark]) -> String {
    let edge = FRAME / 2.0;
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-{edge} -{edge} {FRAME} {FRAME}\">\n<title>{title}</title>\n<g stroke=\"#000\" fill=\"none\" stroke-linecap=\"round\" stroke-linejoin=\"round\">\n"
    );
    for mark in marks {
        match mark {
            Mark::Stroke(points, weight) => stroke(&mut text, points, *weight),
            Mark::Area(points, tone) => area(&mut text, points, *tone),
        }
    }
    text.push_str("</g>\n</svg>\n");
    text
}

fn stroke(text: &mut String, points: &[At], weight: Weight) {
    let (width, colour) = match weight {
        Weight::Faint => (1.0, "#777"),
        Weight::Line => (1.8, "#000"),
        Weight::Bold => (4.0, "#000"),
    };
    text.push_str("<polyline points=\"");
    coordinates(text, points);
    write(text, format_args!("\" stroke=\"{colour}\" stroke-width=\"{width}\"/>\n"));
}

fn area(text: &mut String, points: &[At], tone: Tone) {
    let colour = match tone {
        Tone::Paper => "#fff",
        Tone::Grey => "#bbb",
        Tone::Ink => "#000",
    };
    text.push_str("<polygon points=\"");
    coordinates(text, points);
    write(text, format_args!("\" fill=\"{colour}\" fill-rule=\"evenodd\" stroke=\"none\"/>\n"));
}

/// Writes points; up is down in SVG.
fn coordinates(text: &mut String, points: &[At]) {
    for (at, [x, y]) in points.iter().enumerate() {
        let gap = if at == 0 { "" } else { " " };
        write(text, format_args!("{gap}{:.1},{:.1}", x, -y + 0.0));
    }
}

fn write(text: &mut String, arguments: std::fmt::Arguments) {
    text.write_fmt(arguments).expect("a text takes all that is written to it");
}
