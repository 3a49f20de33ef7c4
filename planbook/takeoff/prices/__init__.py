"""A maker's price list, TOML or CSV, with findings for whatever is wrong in it; it adds up nothing."""

from planbook.takeoff.prices.kinds import ALL as KINDS
from planbook.takeoff.prices.read import PriceReading, read_price_list, read_prices
from planbook.takeoff.prices.records import Price, Prices
from planbook.takeoff.prices.sale import Sale

__all__ = ["KINDS", "Price", "PriceReading", "Prices", "Sale", "read_price_list", "read_prices"]
