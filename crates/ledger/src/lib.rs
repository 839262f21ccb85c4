//! Bill of quantities times rates and finance: money and carbon.
