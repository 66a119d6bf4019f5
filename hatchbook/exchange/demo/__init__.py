"""The demo: a journal of an invented holding, made up anew each time by a seeded simulation.

The story stands in ``resources/demo/scenario.toml``; what follows from it for water, warmth, eggs and readings is
computed here. Nothing in it is about a holding, a bird or a person that there is.
"""

from hatchbook.exchange.demo.making import SEED, create_demo_journal

__all__ = ["SEED", "create_demo_journal"]
