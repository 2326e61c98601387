//! Margins, all on one half of a common leaf: teeth along the line, each a small profile of how far it stands out at which place.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::pen::{Look, Pen};

/// Terms for margins.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("entire", |pen| toothed(pen, 1, &[])),
    ("serrate", |pen| toothed(pen, 6, &[[0.0, 0.0], [1.02, 12.0]])),
    ("serrulate", |pen| toothed(pen, 15, &[[0.0, 0.0], [1.1, 6.0]])),
    ("doubly serrate", |pen| {
        toothed(
            pen,
            4,
            &[[0.0, 0.0], [0.34, 8.0], [0.36, 4.0], [0.7, 13.0], [0.72, 8.0], [1.08, 18.0], [1.04, 1.0]],
        );
    }),
    ("dentate", |pen| toothed(pen, 6, &[[0.0, 0.0], [0.5, 13.0]])),
    ("denticulate", |pen| toothed(pen, 15, &[[0.0, 0.0], [0.5, 6.0], [1.0, 0.0]])),
    ("crenate", |pen| toothed(pen, 6, &bumps(12.0))),
    ("crenulate", |pen| toothed(pen, 13, &bumps(6.0))),
    ("sinuate", |pen| waved(pen, 3.0, 11.0)),
    ("repand", |pen| waved(pen, 4.0, 4.0)),
    ("spinulose", spinulose),
    ("ciliate", |pen| fringed(pen, 22, 12.0, Look::Line)),
    ("fimbriate", |pen| fringed(pen, 11, 15.0, Look::Bold)),
    ("erose", |pen| ragged(pen, 24, [-1.0, 8.0])),
    ("lacerate", |pen| ragged(pen, 12, [-20.0, 15.0])),
    ("laciniate", |pen| toothed(pen, 5, &[[0.02, -14.0], [0.4, 2.0], [0.86, 23.0], [0.8, -2.0]])),
    ("incised", |pen| toothed(pen, 5, &[[0.0, -16.0], [0.02, 3.0], [0.4, 9.0], [0.8, 7.0], [0.97, 0.0]])),
    ("undulate", undulate),
    ("crisped", crisped),
];

/// The right margin of the common leaf, of which half is drawn, from base to apex.
const EDGE: [At; 7] =
    [[-30.0, -38.0], [-8.0, -34.0], [12.0, -21.0], [18.0, -2.0], [10.0, 16.0], [-9.0, 32.0], [-30.0, 46.0]];

/// Teeth have their full size from one part in so many of the margin's length.
const FADE: f32 = 7.0;

/// Returns the right margin of the common leaf.
fn edge() -> Vec<At> {
    curve::smooth(&EDGE)
}

/// Draws half of the common leaf with another margin.
fn leaf(pen: &mut Pen, right: &[At]) {
    pen.line(right, Look::Line);
    let (foot, tip) = (EDGE[0], EDGE[EDGE.len() - 1]);
    pen.line(&[[foot[0], -50.0], tip], Look::Line);
    for up in [-34.0, -16.0, 2.0, 20.0_f32] {
        pen.line(&[[foot[0], up], [foot[0] + 26.0 - up.abs() * 0.3, up + 12.0]], Look::Faint);
    }
}

/// Returns the point beside the margin at a share of its length, so far out; less far near both ends.
fn beside(edge: &[At], share: f32, out: f32) -> At {
    let (at, way) = curve::along(edge, share);
    let out = out * (share.min(1.0 - share) * FADE).clamp(0.2, 1.0);
    [at[0] + way[1] * out, at[1] - way[0] * out]
}

/// Draws a number of equal teeth along the margin, each by points of its share of the way and how far they stand out.
fn toothed(pen: &mut Pen, teeth: u8, tooth: &[At]) {
    let edge = edge();
    if tooth.is_empty() {
        return leaf(pen, &edge);
    }
    let mut right = vec![edge[0]];
    for number in 0..teeth {
        right.extend(tooth.iter().map(|[share, out]| {
            let along = 0.06 + 0.91 * (f32::from(number) + share) / f32::from(teeth);
            beside(&edge, along, *out)
        }));
    }
    right.push(edge[edge.len() - 1]);
    leaf(pen, &right);
}

/// Returns a tooth that is a bow.
fn bumps(high: f32) -> Vec<At> {
    curve::arc([0.5, 0.0], [0.5, high], (180.0, 0.0))
}

/// Draws so many waves along the margin.
fn waved(pen: &mut Pen, waves: f32, high: f32) {
    let edge = edge();
    let wave = |step: u8| {
        let share = f32::from(step) / 100.0;
        let fade = (share * (1.0 - share) * 12.0).min(1.0);
        beside(&edge, share, high * fade * (share * waves * std::f32::consts::TAU).sin())
    };
    leaf(pen, &(0..=100).map(wave).collect::<Vec<At>>());
}

fn spinulose(pen: &mut Pen) {
    toothed(pen, 6, &[[0.0, 0.0], [0.5, 5.0], [1.0, 0.0]]);
    let edge = edge();
    for number in 0..6_u8 {
        let along = 0.06 + 0.91 * (f32::from(number) + 0.5) / 6.0;
        let spine = [beside(&edge, along, 5.0), beside(&edge, along + 0.01, 17.0)];
        pen.line(&spine, Look::Line);
    }
}

/// Draws hairs that stand out from the margin.
fn fringed(pen: &mut Pen, hairs: u8, long: f32, look: Look) {
    let edge = edge();
    leaf(pen, &edge);
    for number in 0..hairs {
        let along = (f32::from(number) + 0.7) / f32::from(hairs);
        let hair = [beside(&edge, along, 0.0), beside(&edge, (along + 0.015).min(1.0), long)];
        pen.line(&hair, look);
    }
}

/// Draws a margin that is gnawed or torn, by lot, and the same every time.
fn ragged(pen: &mut Pen, places: u8, [least, most]: [f32; 2]) {
    let edge = edge();
    let mut lot = 7_u32;
    let mut right = vec![edge[0]];
    for number in 1..places {
        lot = lot.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let high = f32::from((lot >> 24) as u8) / 255.0;
        let out = if number % 2 == 0 {
            least + 0.35 * high * (most - least)
        } else {
            least + (0.45 + 0.55 * high) * (most - least)
        };
        let shift = (high - 0.5) * 0.7;
        right.push(beside(&edge, (f32::from(number) + shift) / f32::from(places), out));
    }
    right.push(edge[edge.len() - 1]);
    leaf(pen, &right);
}

/// Draws a leaf whose margin goes up and down: seen half from the side, with what is turned away.
fn undulate(pen: &mut Pen) {
    waved(pen, 4.0, 6.0);
    let edge = edge();
    for number in 0..4_u8 {
        let along = 0.14 + 0.21 * f32::from(number);
        let fold = [
            beside(&edge, along, -1.0),
            beside(&edge, along + 0.03, -9.0),
            beside(&edge, along + 0.1, -13.0),
        ];
        pen.smooth(&fold, Look::Line);
    }
}

fn crisped(pen: &mut Pen) {
    let edge = edge();
    let right: Vec<At> = (0..=160_u8)
        .map(|step| {
            let share = f32::from(step) / 160.0;
            let turn = share * 8.0 * std::f32::consts::TAU;
            let fade = (share * (1.0 - share) * 12.0).min(1.0);
            beside(&edge, (share + 0.035 * turn.cos() * fade).clamp(0.0, 1.0), 8.0 * fade * turn.sin())
        })
        .collect();
    leaf(pen, &right);
}
