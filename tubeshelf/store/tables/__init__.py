"""The tables of the record, by what they are about."""

from tubeshelf.store.columns import Base
from tubeshelf.store.tables.acts import Act, Counter, Effect, Setting
from tubeshelf.store.tables.equipment import (
    Customer,
    Equipment,
    HeaterCircuit,
    Model,
    ModelSocket,
    SetField,
    UnitSocket,
)
from tubeshelf.store.tables.jobs import (
    Answer,
    Approval,
    Aside,
    Cover,
    Fit,
    Found,
    Job,
    JobSocket,
    SameTube,
    SetValue,
)
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
    "Aside",
    "Base",
    "Counter",
    "Cover",
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
    "SameTube",
    "SetField",
    "SetValue",
    "Setting",
    "SettingLine",
    "ShippedFact",
    "ShopFact",
    "ShopSubstitute",
    "Tester",
    "Type",
    "UnitSocket",
]
