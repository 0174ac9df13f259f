//! The packet as data: facts of the job, pages, and the blocks on them.

mod block;
mod caution;
mod digest;
mod face;
mod job;
mod sheet;
mod since;
mod trade;

pub use block::{Align, Blank, Block, Column, Fact, Row, Table, Tick};
pub use caution::{Caution, Hazard};
pub use digest::{Digest, packet_digest, page_digest};
pub use face::packet_json;
pub use job::{Date, JobFacts};
pub use sheet::{Packet, Page};
pub use since::Since;
pub use trade::Trade;
