"""The standard atmosphere against its tables (ICAO Doc 7488; T, p and density verified, the rest recomputed)."""

from __future__ import annotations

import pytest

from airframe.flight.atmosphere import air

TABLE = [
    (0.0, 288.15, 101_325.0, 1.2250, 340.29, 1.4607e-5),
    (500.0, 284.90, 95_460.8, 1.16727, 338.37, 1.5195e-5),
    (1000.0, 281.65, 89_874.6, 1.11164, 336.43, 1.5813e-5),
    (2000.0, 275.15, 79_495.2, 1.00649, 332.53, 1.7148e-5),
]


@pytest.mark.parametrize(("height", "temperature", "pressure", "density", "sound", "viscosity"), TABLE)
def test_8_standard_air(
    height: float, temperature: float, pressure: float, density: float, sound: float, viscosity: float
) -> None:
    """8.1 to 8.4: every printed digit."""
    found = air(height)
    assert found.temperature_k == pytest.approx(temperature, abs=1e-9)
    assert found.pressure_pa == pytest.approx(pressure, abs=0.06)
    assert found.density_kg_m3 == pytest.approx(density, abs=6e-6)
    assert found.sound_speed_m_s == pytest.approx(sound, abs=6e-3)
    assert found.viscosity_m2_s == pytest.approx(viscosity, abs=6e-10)


def test_reynolds_number_of_a_chord() -> None:
    """U c / nu: 7 m/s on 0.2 m at sea level is 1.4 / 1.4607e-5."""
    assert air().reynolds(7.0, 0.2) == pytest.approx(1.4 / 1.4607e-5, rel=4e-5)


@pytest.mark.parametrize("height", [-1001.0, 11_001.0, float("nan")])
def test_a_height_outside_the_layer_is_refused(height: float) -> None:
    """The formulas hold below 11 km only."""
    with pytest.raises(ValueError, match="outside"):
        air(height)
