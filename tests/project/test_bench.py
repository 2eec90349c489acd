"""The bench: its file of results, and that peers and solver mean the same networks.

The peers are EPANET 2.2 (through wntr) and scipy; both solve on node pressures, the engine's solver on flows as well.
"""

import json

import numpy as np
import pytest

from tests.bench.listing import MEASUREMENTS, Target
from tests.bench.own_solver import prepare
from tests.bench.results import Result, result_of, write_results
from tests.bench.six_nodes import random_networks
from tests.bench.table import table

MACHINE = {"processor": "a processor", "cores": 2}
SETTINGS = (0, 30, 80)


@pytest.fixture(scope="module")
def networks():
    return random_networks(4, seed=5)


def test_epanet_agrees_on_the_same_tables(networks):
    from tests.bench.peers.epanet import opened

    for network in networks:
        own = prepare(network, points=101).volume_flows()
        with opened(network, points=101) as toolkit:
            for k in SETTINGS:
                toolkit.set_speeds(network.speeds[k])
                toolkit.solve()
                assert np.abs(toolkit.flows() - own[k]).max() < 1e-6 * np.abs(own[k]).max()


@pytest.mark.parametrize("method", ["hybr", "lm"])
def test_scipy_agrees_on_the_smooth_law(networks, method):
    from tests.bench.peers.scipy_root import root_peer

    for network in networks:
        own = prepare(network).volume_flows()
        for k in SETTINGS:
            peer = root_peer(network, network.speeds[k])
            pressure = peer.solve(method)
            assert peer.smooth(pressure)
            flows = peer.flows(pressure)
            assert np.abs(flows - own[k]).max() < 1e-6 * np.abs(own[k]).max()


def test_jacobian_of_the_peer_is_that_of_its_balance(networks):
    from tests.bench.peers.scipy_root import root_peer

    peer = root_peer(networks[0], networks[0].speeds[40])
    at, step = np.array([-3.0, 2.0, 1.5, 1.0, 0.5]), 1e-6
    by_differences = [(peer.balance(at + step * e) - peer.balance(at - step * e)) / (2 * step) for e in np.eye(5)]
    assert np.allclose(peer.jacobian(at), np.transpose(by_differences), rtol=1e-6)


def test_file_holds_what_was_measured(tmp_path):
    result = Result("sample_brief", 2.5, "s", "nothing", 1.5, {"runs_s": [2.5]})
    write_results(tmp_path / "var" / "bench.json", [result], MACHINE, "2026-01-01T00:00:00+00:00")
    (entry,) = json.loads((tmp_path / "var" / "bench.json").read_text())
    assert result_of(entry) == result
    assert (entry["machine"], entry["date"]) == (MACHINE, "2026-01-01T00:00:00+00:00")


def test_one_measurement_leaves_the_others_in_the_file(tmp_path):
    file = tmp_path / "bench.json"
    write_results(file, [Result("sample_brief", 2.5, "s"), Result("million_candidates", 30.0, "s")], MACHINE, "then")
    entries = write_results(file, [Result("sample_brief", 2.0, "s")], MACHINE, "now")
    assert [(e["name"], e["value"], e["date"]) for e in entries] == [
        ("million_candidates", 30.0, "then"),
        ("sample_brief", 2.0, "now"),
    ]


def test_no_number_that_json_lacks_gets_into_the_file(tmp_path):
    with pytest.raises(ValueError, match="JSON"):
        write_results(tmp_path / "bench.json", [Result("sample_brief", float("nan"), "s")], MACHINE, "now")


def test_table_says_whether_a_target_is_met():
    fast, slow = (Result("sample_brief", value, "s").entry() for value in (2.9, 3.1))
    verdicts = [line.split()[-1] for line in table([fast, slow]).splitlines()[1:]]
    assert verdicts == ["met", "MET"] and "NOT MET" in table([slow])


def test_targets_hold_at_their_bound():
    assert Target(10, at_least=True).met(10) and not Target(10, at_least=True).met(9.99)
    assert Target(3, at_least=False).met(3) and not Target(3, at_least=False).met(3.01)


def test_every_measurement_can_be_found():
    from importlib import import_module

    for known in MEASUREMENTS.values():
        assert callable(getattr(import_module(f"tests.bench.{known.module}"), known.function))
