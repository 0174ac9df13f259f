//! The packet: pages as data, drawings, the one-file web page, the printed pages and the lists.
//!
//! Builders fill a [`Packet`] with pages whose every text is a figure, a quotation or a key into the
//! word table. What comes out is the same bytes for the same input.

mod compile;
pub mod font;
pub mod html;
pub mod lists;
pub mod page;
pub mod pages;
pub mod scene;
pub mod set;
pub mod text;
pub mod typst;

pub use compile::compile;
pub use lists::lists;
pub use page::{Block, Packet, Page};
pub use pages::PageSource;
pub use scene::Scene;
pub use set::{List, Written, write_set};
pub use text::{Text, say};
