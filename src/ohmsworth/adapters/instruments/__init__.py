"""Meters and current sources on sockets, USB and serial lines. Nothing is opened by importing this, and nothing searched for."""

from ohmsworth.adapters.instruments.guard import GUARD
from ohmsworth.adapters.instruments.lines import serial_ports
from ohmsworth.adapters.instruments.meters import open_meter
from ohmsworth.adapters.instruments.opening import open_source

__all__ = ["GUARD", "open_meter", "open_source", "serial_ports"]
