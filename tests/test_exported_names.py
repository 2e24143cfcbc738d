"""Facts about the public names: what `__all__` says is there, is all there is, and is in order."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from types import ModuleType
from typing import Final

import pytest

import sheetcalc


def _modules() -> list[ModuleType]:
    names = [found.name for found in pkgutil.walk_packages(sheetcalc.__path__, "sheetcalc.")]
    return [sheetcalc, *(importlib.import_module(name) for name in names)]


MODULES: Final = _modules()
WITH_ALL: Final = [module for module in MODULES if hasattr(module, "__all__")]


def _place(name: str) -> tuple[int, str]:
    """Where a name stands in a list of names: CONSTANTS, then Classes, then the rest, each by the alphabet."""
    return (0 if name.isupper() else 1 if name[0].isupper() else 2, name)


def test_the_package_says_what_it_exports() -> None:
    """The package itself and the way into the intake have an `__all__`, so that the tests below look at something."""
    assert {"sheetcalc", "sheetcalc.intake.lists"} <= {module.__name__ for module in WITH_ALL}


@pytest.mark.parametrize("module", WITH_ALL, ids=lambda module: module.__name__)
def test_every_exported_name_can_be_imported(module: ModuleType) -> None:
    """Each name of `__all__` is an attribute of its module."""
    assert [name for name in module.__all__ if not hasattr(module, name)] == []


@pytest.mark.parametrize("module", WITH_ALL, ids=lambda module: module.__name__)
def test_exported_names_are_sorted_and_stand_once(module: ModuleType) -> None:
    """`__all__` runs through constants, classes and the rest, each by the alphabet, and repeats nothing."""
    assert sorted(set(module.__all__), key=_place) == module.__all__


@pytest.mark.parametrize("module", WITH_ALL, ids=lambda module: module.__name__)
def test_no_public_definition_is_left_out(module: ModuleType) -> None:
    """A class or function defined in a module with `__all__` and without an underscore is in it."""
    defined = {
        name
        for name, value in vars(module).items()
        if (inspect.isclass(value) or inspect.isfunction(value)) and value.__module__ == module.__name__ and not name.startswith("_")
    }
    assert set() == defined - set(module.__all__)


def test_the_package_exports_all_that_it_holds() -> None:
    """Whatever stands in the package's own namespace and is no module, is exported: nothing is public by accident."""
    held = {
        name
        for name, value in vars(sheetcalc).items()
        if not name.startswith("_") and not inspect.ismodule(value) and name != "annotations"
    }
    assert held | {"__version__", "calculate"} == set(sheetcalc.__all__)


def test_a_user_can_catch_everything_that_a_call_may_raise() -> None:
    """The base of all errors is exported, and every exported error is one of its kind."""
    errors = [name for name in sheetcalc.__all__ if name.endswith("Error")]
    assert "SheetcalcError" in errors
    assert [name for name in errors if not issubclass(getattr(sheetcalc, name), sheetcalc.SheetcalcError)] == []
