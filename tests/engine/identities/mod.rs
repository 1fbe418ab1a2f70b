//! Laws that hold for every device and every state, whatever the numbers.

mod across_layers;
mod ageing;
mod bending;
mod blade_order;
mod crossing;
mod drawn_data;
mod energy;
mod jacobian;
mod lanes;
mod monotone;
mod proofs;
mod registers;
