//! Supply air.

pub(super) mod room_without_outlet;
