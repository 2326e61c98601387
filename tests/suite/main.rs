//! Tests of the whole program, through its binary and its rooms' doors; one module a subject.

#![expect(clippy::needless_raw_string_hashes, reason = "expect-test writes expected texts with them")]

mod amend;
mod bad_input;
mod cli;
mod defining;
mod drill;
mod ears;
mod finding;
mod house;
mod idle;
mod keying;
mod layouts;
mod look_alikes;
mod network;
mod pages;
mod presses;
mod profile;
mod readme;
mod reference;
mod retrieval;
mod rooms;
mod screens;
mod sessions;
mod source;
mod style;
mod support;
mod text;
mod volumes;
mod walks;
mod wandering;
mod words;
