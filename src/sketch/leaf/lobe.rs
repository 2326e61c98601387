//! Lobed leaves: how deep the cuts go, and whether they go towards a midrib or towards one point.

use crate::sketch::Row;
use crate::sketch::curve::{self, At};
use crate::sketch::leaf::shape::stalk;
use crate::sketch::pen::{Look, Pen};

/// Terms for lobes.
pub(in crate::sketch) const ROWS: &[Row] = &[
    ("pinnatilobed", |pen| feather(pen, 0.3)),
    ("pinnatifid", |pen| feather(pen, 0.55)),
    ("pinnatisect", |pen| feather(pen, 0.97)),
    ("palmatilobed", |pen| hand(pen, 0.3)),
    ("palmatifid", |pen| hand(pen, 0.52)),
    ("palmatisect", |pen| hand(pen, 0.95)),
    ("trilobed", trilobed),
    ("bifid", bifid),
    ("pectinate", pectinate),
    ("runcinate", runcinate),
    ("lyrate", lyrate),
    ("bipinnatifid", bipinnatifid),
];

/// Heights of base and apex of a leaf that is lobed like a feather.
const FEATHER: [f32; 2] = [-38.0, 47.0];

/// Lobes of such a leaf on one side.
const LOBES: f32 = 4.0;

/// Draws a leaf with lobes along the midrib, cut so deep as a share of the half breadth.
fn feather(pen: &mut Pen, depth: f32) {
    let [base, apex] = FEATHER;
    let side = |step: u8| {
        let share = f32::from(step) / 160.0;
        let full = 33.0 - 13.0 * (1.8 * share - 0.7).abs().powf(2.4);
        let place = (share * LOBES).fract();
        let cut = (1.0 - (std::f32::consts::PI * place).sin().powf(0.55)) * depth;
        let x = (full * (1.0 - cut)).max(1.5);
        [x, base + (apex - base) * share * 0.74 + x * 0.42]
    };
    let mut right = vec![[0.0, base]];
    right.extend((2..=158).map(side));
    let foot = side(158);
    let wide = foot[0].max(10.0) + 2.0;
    right.extend(curve::smooth(&[foot, [wide, foot[1] + 5.0], [wide * 0.8, apex - 6.0], [0.0, apex + 3.0]]));
    pen.twin(&right, Look::Line);
    stalk(pen, base);
    pen.line(&[[0.0, base], [0.0, apex - 12.0]], Look::Faint);
}

/// Draws a leaf with five lobes from one point, cut so deep as a share of its reach.
fn hand(pen: &mut Pen, depth: f32) {
    let middle = [0.0, -24.0];
    let ring: Vec<At> = (0..=200_u8)
        .map(|step| {
            let share = f32::from(step) / 200.0;
            let angle = -36.0 + 252.0 * share;
            let place = (share * 5.0).fract();
            let reach = 66.0 - 24.0 * ((angle - 90.0) / 126.0).abs().powf(1.5);
            let cut = (1.0 - (std::f32::consts::PI * place).sin().max(0.0).powf(0.7)) * depth;
            let edge = if share == 0.0 || step == 200 { 0.3 } else { 1.0 };
            let (sine, cosine) = angle.to_radians().sin_cos();
            [middle[0] + reach * (1.0 - cut) * edge * cosine, middle[1] + reach * (1.0 - cut) * edge * sine]
        })
        .collect();
    pen.figure(&ring, Look::Line);
    stalk(pen, middle[1]);
    for angle in [-10.8, 39.6, 90.0, 140.4, 190.8_f32] {
        let (sine, cosine) = angle.to_radians().sin_cos();
        let reach = 52.0 - 22.0 * ((angle - 90.0) / 126.0).abs();
        pen.line(&[middle, [middle[0] + reach * cosine, middle[1] + reach * sine]], Look::Faint);
    }
}

fn trilobed(pen: &mut Pen) {
    let outer = curve::smooth(&[[0.0, -34.0], [22.0, -28.0], [38.0, -8.0], [42.0, 16.0], [34.0, 19.0]]);
    let inner = curve::smooth(&[[34.0, 19.0], [22.0, 14.0], [15.0, 6.0]]);
    let top = curve::smooth(&[[15.0, 6.0], [17.0, 24.0], [11.0, 40.0], [0.0, 47.0]]);
    pen.twin(&[outer, inner, top].concat(), Look::Line);
    stalk(pen, -34.0);
    pen.line(&[[0.0, -34.0], [0.0, 36.0]], Look::Faint);
    pen.both(&[[0.0, -34.0], [16.0, -12.0], [32.0, 10.0]], Look::Faint);
}

fn bifid(pen: &mut Pen) {
    let outer = curve::smooth(&[[0.0, -38.0], [16.0, -26.0], [22.0, 0.0], [26.0, 26.0], [29.0, 47.0]]);
    let inner = [[29.0, 47.0], [14.0, 24.0], [0.0, 2.0]];
    pen.twin(&[&outer[..], &inner].concat(), Look::Line);
    stalk(pen, -38.0);
    pen.line(&[[0.0, -38.0], [0.0, -6.0]], Look::Faint);
}

fn pectinate(pen: &mut Pen) {
    pen.line(&[[0.0, -50.0], [0.0, 48.0]], Look::Bold);
    for step in 0..11_u8 {
        let y = -36.0 + 7.6 * f32::from(step);
        let reach = 34.0 - (y - 2.0).abs() * 0.3;
        pen.line(&[[-reach, y + 5.0], [0.0, y], [reach, y + 5.0]], Look::Line);
    }
}

fn runcinate(pen: &mut Pen) {
    let mut right = vec![[3.0, -40.0]];
    for (foot, reach) in [(-30.0, 18.0), (-12.0, 25.0), (8.0, 30.0)] {
        right.extend([[5.0, foot], [reach, foot - 9.0], [reach * 0.6, foot + 6.0]]);
    }
    right.extend([[9.0, 24.0], [22.0, 20.0], [13.0, 36.0], [0.0, 48.0]]);
    pen.twin(&right, Look::Line);
    stalk(pen, -40.0);
    pen.line(&[[0.0, -40.0], [0.0, 36.0]], Look::Faint);
}

fn lyrate(pen: &mut Pen) {
    let lobe = |foot: f32, reach: f32| {
        curve::smooth(&[[3.0, foot], [reach, foot - 2.0], [reach + 2.0, foot + 7.0], [3.5, foot + 9.0]])
    };
    let top =
        curve::smooth(&[[4.0, -2.0], [22.0, -4.0], [33.0, 12.0], [28.0, 34.0], [12.0, 46.0], [0.0, 48.0]]);
    let right = [vec![[2.5, -42.0]], lobe(-36.0, 9.0), lobe(-19.0, 15.0), top].concat();
    pen.twin(&right, Look::Line);
    stalk(pen, -42.0);
    pen.line(&[[0.0, -42.0], [0.0, 34.0]], Look::Faint);
}

fn bipinnatifid(pen: &mut Pen) {
    let mut right = vec![[2.0, FEATHER[0]]];
    for (foot, reach) in [(-30.0, 40.0), (-12.0, 36.0), (6.0, 28.0), (22.0, 17.0)] {
        // Along the underside of a lobe and back along its upper side, with small lobes on both.
        let along = |share: f32, across: f32| [reach * share, foot + reach * share * 0.45 + across];
        right.extend([
            along(0.08, -1.0),
            along(0.2, -7.0),
            along(0.42, -2.0),
            along(0.55, -8.0),
            along(0.74, -1.5),
        ]);
        right.extend([
            along(1.0, 0.0),
            along(0.72, 3.0),
            along(0.62, 9.0),
            along(0.42, 3.0),
            along(0.3, 9.0),
            along(0.1, 3.0),
        ]);
    }
    right.extend([[4.0, 32.0], [8.0, 40.0], [0.0, 48.0]]);
    pen.twin(&right, Look::Line);
    stalk(pen, FEATHER[0]);
}
