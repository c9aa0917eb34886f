"""The tables of the record, by what they are about."""

from tubeshelf.store.columns import Base
from tubeshelf.store.tables.acts import Act, Counter, Effect, Setting
from tubeshelf.store.tables.equipment import (
    Customer,
    Equipment,
    HeaterCircuit,
    Model,
    ModelSocket,
    UnitSocket,
)
from tubeshelf.store.tables.jobs import Answer, Approval, Fit, Found, Job, JobSocket
from tubeshelf.store.tables.readings import Judgement, Observation, Reading
from tubeshelf.store.tables.shelf import Item, Movement, Par, Promise
from tubeshelf.store.tables.types import (
    Limit,
    SettingLine,
    ShippedFact,
    ShopFact,
    ShopSubstitute,
    Tester,
    Type,
)

__all__ = [
    "Act",
    "Answer",
    "Approval",
    "Base",
    "Counter",
    "Customer",
    "Effect",
    "Equipment",
    "Fit",
    "Found",
    "HeaterCircuit",
    "Item",
    "Job",
    "JobSocket",
    "Judgement",
    "Limit",
    "Model",
    "ModelSocket",
    "Movement",
    "Observation",
    "Par",
    "Promise",
    "Reading",
    "Setting",
    "SettingLine",
    "ShippedFact",
    "ShopFact",
    "ShopSubstitute",
    "Tester",
    "Type",
    "UnitSocket",
]
