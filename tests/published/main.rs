//! Numbers from outside the project that the program is held against, a file a source or subject.

mod alloys;
mod thermostat_metal_layers;
mod wiedemann_franz;
