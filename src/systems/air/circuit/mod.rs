//! The air circuit of each air handler as the job draws it: room, return, cabinet, blower, trunk, take-offs,
//! tubes, outlets, room. Built from model and catalog, solved for every tap and season, entered as figures.

mod answer;
mod back;
mod blower;
mod enter;
mod gap;
mod items;
mod network;
mod operating;
mod parts;
mod pressure;
mod run;
mod split;
mod suction;
mod supply;
mod weather;
mod zone;

pub(super) use enter::enter;
pub(super) use operating::solve_all;
