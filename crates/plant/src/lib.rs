//! Receiver, store and heat demand, hour by hour.
