"""EPANET as a peer for isothermal airflow networks: 1 m of head is 1 Pa, litres a second, no elevations, no demands."""

from __future__ import annotations

import warnings
from pathlib import Path

import numpy as np

from tests.references.networks import FAN_FLOW, FAN_PRESSURE, Sketch, loss_points

FLOW, HEAD = 8, 10  # toolkit codes


def epanet_flows(net: Sketch, points: int, folder: Path) -> tuple[np.ndarray, np.ndarray]:
    """Volume flows [m3/s] and zone pressures [Pa] by the EPANET 2.2 toolkit in double precision."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import wntr
        from wntr.epanet.toolkit import ENepanet

        model = wntr.network.WaterNetworkModel()
        hydraulic = model.options.hydraulic
        hydraulic.inpfile_units, hydraulic.accuracy, hydraulic.headerror = "LPS", 1e-8, 1e-9
        hydraulic.flowchange, hydraulic.trials = 1e-12, 200
        model.options.time.duration = 0
        model.add_reservoir("OUT", base_head=0.0)
        for z in range(net.zones):
            model.add_junction(f"Z{z}", base_demand=0.0, elevation=0.0)
        names = _add_links(model, net, points)
        wntr.network.write_inpfile(model, str(folder / "net.inp"), units="LPS", version=2.2)
        toolkit = ENepanet(version=2.2)
        toolkit.ENopen(str(folder / "net.inp"), str(folder / "net.rpt"), str(folder / "net.bin"))
        try:
            toolkit.ENopenH()
            toolkit.ENinitH(10)
            toolkit.ENrunH()
            flows = [toolkit.ENgetlinkvalue(toolkit.ENgetlinkindex(name), FLOW) / 1e3 for name in names]
            heads = [toolkit.ENgetnodevalue(toolkit.ENgetnodeindex(f"Z{z}"), HEAD) for z in range(net.zones)]
            toolkit.ENcloseH()
        finally:
            toolkit.ENclose()
    return np.array(flows), np.array(heads)


def _add_links(model: object, net: Sketch, points: int) -> list[str]:
    node = {z: f"Z{z}" for z in range(net.zones)} | {-1: "OUT"}
    names = []
    for k, (i, j, a, b) in enumerate(net.branches):
        model.add_curve(f"C{k}", "HEADLOSS", list(loss_points(a, b, points)))
        model.add_valve(
            f"L{k}", node[i], node[j], diameter=0.1, valve_type="GPV", minor_loss=0.0, initial_setting=f"C{k}",
            initial_status="ACTIVE",
        )  # fmt: skip
        names.append(f"L{k}")
    model.add_curve("FAN", "HEAD", list(zip(FAN_FLOW.tolist(), FAN_PRESSURE.tolist(), strict=True)))
    for k, (i, j, w) in enumerate(net.fans):
        model.add_pump(f"F{k}", node[i], node[j], pump_type="HEAD", pump_parameter="FAN", speed=w)
        names.append(f"F{k}")
    return names
