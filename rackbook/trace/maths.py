"""Functions for formula bodies: one name each on floats, arrays, sympy symbols and units.

The names are those that the setter of hand calculations and sympy both know.
"""

from __future__ import annotations

import builtins
import math
import numbers

import numpy as np

pi = math.pi


def _kind(*args):
    """Say which implementation serves: the dimension tracer, sympy, arrays, or floats."""
    for a in args:
        if isinstance(a, (float, int, numbers.Real)):
            continue
        if hasattr(a, "apply_function"):
            return "trace"
        if isinstance(a, np.ndarray):
            return "array"
        if type(a).__module__.startswith("sympy"):
            return "sympy"
    return "float"


def _one(name: str, on_float, on_array, doc: str):
    def function(x):
        kind = _kind(x)
        if kind == "float":
            return on_float(x)
        if kind == "array":
            return on_array(x)
        if kind == "trace":
            return x.apply_function(name)
        import sympy

        named = {"ceil": sympy.ceiling, "log10": lambda s: sympy.log(s, 10), "abs": sympy.Abs}
        return (named[name] if name in named else getattr(sympy, name))(x)

    function.__name__, function.__doc__ = name, doc
    return function


sqrt = _one("sqrt", math.sqrt, np.sqrt, "Return the square root; the unit's exponents are halved.")
exp = _one("exp", math.exp, np.exp, "Return e to the power of a pure number.")
log = _one("log", math.log, np.log, "Return the natural logarithm of a pure number.")
log10 = _one("log10", math.log10, np.log10, "Return the decimal logarithm of a pure number.")
ceil = _one(
    "ceil",
    lambda x: float(math.ceil(x - 1e-9)),
    lambda x: np.ceil(x - 1e-9),
    "Return a pure number rounded up to a whole one.",
)
sin = _one("sin", math.sin, np.sin, "Return the sine of an angle.")
cos = _one("cos", math.cos, np.cos, "Return the cosine of an angle.")
tan = _one("tan", math.tan, np.tan, "Return the tangent of an angle.")
asin = _one("asin", math.asin, np.arcsin, "Return the angle of a sine.")
acos = _one("acos", math.acos, np.arccos, "Return the angle of a cosine.")
atan = _one("atan", math.atan, np.arctan, "Return the angle of a tangent.")
abs = _one("abs", math.fabs, np.abs, "Return the absolute value.")


def _many(name: str, on_float, on_array):
    def function(*args):
        kind = _kind(*args)
        if kind == "float":
            return on_float(args)
        if kind == "array":
            result = args[0]
            for a in args[1:]:
                result = on_array(result, a)
            return result
        if kind == "trace":
            return next(a for a in args if hasattr(a, "apply_function")).same(*args)
        import sympy

        return {"max": sympy.Max, "min": sympy.Min}[name](*args)

    function.__name__, function.__doc__ = name, f"Return the {name}imum of quantities of one dimension."
    return function


max = _many("max", builtins.max, np.maximum)
min = _many("min", builtins.min, np.minimum)


def sum(x):
    """Return the sum of the entries of an array; a single number is its own sum."""
    kind = _kind(x)
    if kind == "array":
        return np.sum(x)
    if kind == "sympy":
        import sympy

        return sympy.Function("Sigma")(x)
    return x


#: Every function a formula body may call.
FUNCTIONS = {f.__name__: f for f in (sqrt, exp, log, log10, ceil, sin, cos, tan, asin, acos, atan, abs, max, min, sum)}
