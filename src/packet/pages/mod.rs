//! The pages of the packet, one file each, collected in the order of work.
//!
//! A page's file takes the checked job and adds its pages; it prints figures of the ledger, quotations and
//! words, and computes nothing but places on paper.

mod air_columns;
mod air_schematic;
mod as_written;
mod checked;
mod coil;
mod contact;
mod control_drawing;
mod control_lines;
mod control_net;
mod control_runs;
mod controls;
mod cover;
mod cut_bars;
mod cut_tags;
mod drain;
mod drain_profile;
mod drain_trap;
mod fan_axes;
mod fan_chart;
mod feed;
mod feed_line;
mod fitted;
mod hot_water;
mod line_set;
mod notes;
mod order;
mod order_list;
mod other;
mod pan;
mod pieces;
mod plan;
mod pump;
mod quote;
pub(in crate::packet) mod readings;
mod return_air;
mod role_words;
mod room_air;
mod schedule;
mod setting;
mod setting_spaces;
mod source;
mod sources;
mod split_grid;
mod start_up;
mod trouble;
mod trunk_chart;
mod trunk_holes;
mod view;
mod voltage;
mod voltage_strip;
mod water_diagram;
mod zones;

pub(super) use contact::conductors;
pub(super) use cut_tags::runs_of;
pub use order::pages;
pub(super) use schedule::{figure_or_empty, run_to, surface};
pub use source::PageSource;
