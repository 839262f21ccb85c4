//! Keys of money terms and of the search.

use ledger::{SteelRoute, TaxedParty, WriteOff};
use quantity::Dimension::{Fraction, MassPerEnergy, MoneyPerEnergy, MoneyPerMass, Number, Time};

use crate::choices::nth;
use crate::key::Put::Case;
use crate::key::{Key, choice, duty, quantity, text, whole};

const SECONDS_PER_YEAR: f64 = 8760.0 * 3600.0;

pub(super) static KEYS: &[Key] = &[
    quantity(
        "finance.real_rate",
        Fraction,
        "%",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.finance.real_rate = value),
        "Discount rate above inflation, per year.",
    )
    .or_ledger(|finance| finance.real_rate),
    quantity(
        "finance.inflation",
        Fraction,
        "%",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.finance.inflation = value),
        "Inflation, per year.",
    )
    .or_ledger(|finance| finance.inflation),
    quantity(
        "finance.life",
        Time,
        "yr",
        (1.0, 60.0),
        Case(|draft, value| draft.scenario.finance.life_years = value / SECONDS_PER_YEAR),
        "Years of service.",
    )
    .or_ledger(|finance| finance.life_years * SECONDS_PER_YEAR),
    quantity(
        "finance.construction_time",
        Time,
        "yr",
        (0.0, 10.0),
        Case(|draft, value| draft.scenario.finance.construction_years = value / SECONDS_PER_YEAR),
        "Years of construction.",
    )
    .or_ledger(|finance| finance.construction_years * SECONDS_PER_YEAR),
    quantity(
        "finance.contingency",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.finance.contingency = value),
        "Contingency on ordinary parts, share of their cost.",
    )
    .or_ledger(|finance| finance.contingency),
    quantity(
        "finance.contingency_unproven",
        Fraction,
        "%",
        (0.0, 200.0),
        Case(|draft, value| draft.scenario.finance.contingency_unproven = value),
        "Contingency on parts that nobody has yet built in number, share of their cost: field steel and drives of strings.",
    )
    .or_ledger(|finance| finance.contingency_unproven),
    quantity(
        "finance.engineering",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.finance.engineering = value),
        "Engineering, procurement and supervision, share of direct cost with contingency.",
    )
    .or_ledger(|finance| finance.engineering),
    quantity(
        "finance.owner_cost",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.finance.owner_cost = value),
        "The owner's own cost, share of everything before it.",
    )
    .or_ledger(|finance| finance.owner_cost),
    quantity(
        "finance.grant",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.finance.grant = value),
        "Share of the capital that is given and not repaid.",
    )
    .or_ledger(|finance| finance.grant),
    quantity(
        "finance.yearly_decline",
        Fraction,
        "%",
        (0.0, 5.0),
        Case(|draft, value| draft.scenario.finance.yearly_decline = value),
        "Share of the yearly heat lost for good with each year after the first.",
    )
    .or_ledger(|finance| finance.yearly_decline),
    quantity(
        "finance.insurance",
        Fraction,
        "%",
        (0.0, 5.0),
        Case(|draft, value| draft.scenario.finance.insurance = value),
        "Insurance per year, share of capital.",
    )
    .or_ledger(|finance| finance.insurance),
    quantity(
        "finance.plant_upkeep",
        Fraction,
        "%",
        (0.0, 20.0),
        Case(|draft, value| draft.scenario.finance.plant_upkeep = value),
        "Spare parts and upkeep per year of tower, receiver and plant, share of their direct cost.",
    )
    .or_ledger(|finance| finance.plant_upkeep),
    quantity(
        "finance.carbon_price",
        MoneyPerMass,
        "USD/t",
        (0.0, 2000.0),
        Case(|draft, value| draft.scenario.finance.carbon_price_per_kg = value),
        "Price of carbon.",
    )
    .or_ledger(|finance| finance.carbon_price_per_kg),
    quantity(
        "finance.gas_price",
        MoneyPerEnergy,
        "USD/MWh",
        (0.0, 1000.0),
        Case(|draft, value| draft.scenario.finance.gas.energy_price_per_j = value),
        "Price of the gas that the field saves, net calorific value.",
    )
    .or_ledger(|finance| finance.gas.energy_price_per_j),
    quantity(
        "finance.gas_efficiency",
        Fraction,
        "%",
        (30.0, 110.0),
        Case(|draft, value| draft.scenario.finance.gas.efficiency = value),
        "Heat ÷ gas of the boiler that burns it.",
    )
    .or_ledger(|finance| finance.gas.efficiency),
    quantity(
        "finance.gas_carbon",
        MassPerEnergy,
        "kg/kWh",
        (0.0, 1.0),
        Case(|draft, value| draft.scenario.finance.gas.carbon_kg_per_j = value),
        "Carbon of that gas, CO2 equivalent.",
    )
    .or_ledger(|finance| finance.gas.carbon_kg_per_j),
    quantity(
        "finance.electricity_price",
        MoneyPerEnergy,
        "USD/MWh",
        (0.0, 2000.0),
        Case(|draft, value| draft.scenario.finance.electric.energy_price_per_j = value),
        "Price of electricity for an electric boiler, for comparison.",
    )
    .or_ledger(|finance| finance.electric.energy_price_per_j),
    quantity(
        "finance.electricity_carbon",
        MassPerEnergy,
        "kg/kWh",
        (0.0, 2.0),
        Case(|draft, value| draft.scenario.finance.electric.carbon_kg_per_j = value),
        "Carbon of that electricity, CO2 equivalent.",
    )
    .or_ledger(|finance| finance.electric.carbon_kg_per_j),
    quantity(
        "finance.residual",
        Fraction,
        "%",
        (-50.0, 100.0),
        Case(|draft, value| draft.scenario.finance.residual = value),
        "What the plant is worth at the end of its life, less taking it down; share of capital.",
    )
    .or_ledger(|finance| finance.residual),
    quantity(
        "finance.tax",
        Fraction,
        "%",
        (0.0, 60.0),
        Case(|draft, value| draft.scenario.finance.tax.rate = value),
        "Income tax.",
    )
    .or_ledger(|finance| finance.tax.rate),
    choice::<TaxedParty>(
        "finance.taxed",
        Case(|draft, index| draft.scenario.finance.tax.party = nth(index)),
        "Whose tax: of a user, whose costs are counted after tax, or of a seller of heat.",
    )
    .or("user")
    .price(),
    choice::<WriteOff>(
        "finance.write_off",
        Case(|draft, index| draft.scenario.finance.tax.write_off = nth(index)),
        "How capital is written off.",
    )
    .or("straight line")
    .price(),
    quantity(
        "finance.write_off_time",
        Time,
        "yr",
        (1.0, 60.0),
        Case(|draft, value| draft.scenario.finance.tax.write_off_years = value / SECONDS_PER_YEAR),
        "Years until nothing is left, written off in a straight line.",
    )
    .or_ledger(|finance| finance.tax.write_off_years * SECONDS_PER_YEAR),
    quantity(
        "finance.debt_share",
        Fraction,
        "%",
        (0.0, 100.0),
        Case(|draft, value| draft.scenario.finance.debt.share = value),
        "Share of the capital that is borrowed; for the cover of the loan.",
    )
    .or_ledger(|finance| finance.debt.share),
    quantity(
        "finance.debt_rate",
        Fraction,
        "%",
        (0.0, 30.0),
        Case(|draft, value| draft.scenario.finance.debt.rate = value),
        "Interest of the loan, inflation included, per year.",
    )
    .or_ledger(|finance| finance.debt.rate),
    quantity(
        "finance.debt_time",
        Time,
        "yr",
        (1.0, 60.0),
        Case(|draft, value| draft.scenario.finance.debt.years = value / SECONDS_PER_YEAR),
        "Years until the loan is repaid.",
    )
    .or_ledger(|finance| finance.debt.years * SECONDS_PER_YEAR),
    quantity(
        "finance.p90_share",
        Fraction,
        "%",
        (20.0, 100.0),
        Case(|draft, value| draft.scenario.finance.p90_share = value),
        "Yearly heat that nine years of ten exceed ÷ mean yearly heat; for the cover of the loan.",
    )
    .or_ledger(|finance| finance.p90_share),
    whole(
        "finance.price_year",
        (1950, 2100),
        Case(|draft, value| draft.scenario.rate_terms.price_year = value as u16),
        "Year in whose money everything is counted; rates of other years are brought to it by the price index.",
    )
    .or("2024")
    .price(),
    quantity(
        "finance.output_ratio",
        Number,
        "1",
        (0.001, 1000.0),
        Case(|draft, value| draft.scenario.rate_terms.output_ratio = value),
        "Output of the makers of drives, castings and ties ÷ the output at which their rates were quoted.",
    )
    .or("1")
    .price(),
    quantity(
        "finance.learning",
        Fraction,
        "%",
        (50.0, 100.0),
        Case(|draft, value| draft.scenario.rate_terms.learning = value),
        "Their price at twice the output ÷ their price; 92.4 % after Kolb et al. 2007, SAND2007-3293 (from memory).",
    )
    .or("92.4 %")
    .price(),
    choice::<SteelRoute>(
        "carbon.steel",
        Case(|draft, index| draft.scenario.rate_terms.steel = nth(index)),
        "How crude steel is made: the world's mix (1.91 kg/kg of carbon), from ore (2.32) or from scrap (0.68).",
    )
    .or("world")
    .price(),
    text(
        "rates.file",
        |draft, value| draft.rates_file = value,
        "A file of rates in place of the built-in ones; `tautfield rates` prints one with all of them.",
    )
    .optional("rates.toml")
    .aside(),
    whole(
        "search.seed",
        (0, u32::MAX),
        Case(|draft, value| draft.scenario.search.seed = value),
        "Seed of the search.",
    )
    .or("1")
    .aside(),
    whole(
        "search.total",
        (1, 100_000_000),
        Case(|draft, value| draft.scenario.search.total = value),
        "Designs evaluated in all.",
    )
    .or("5000")
    .aside(),
    duty(
        "search.duty",
        |draft, value| draft.scenario.search.duty = Some(value),
        "What every design must deliver in a year, more earning nothing: energy, a share of the demand such as \"55 %\", or \"whole demand\", the rest being bought.",
    )
    .optional("9 GWh")
    .price(),
];
