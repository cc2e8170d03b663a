#!/usr/bin/env python3
"""The fixed case of least_squares_test.cpp by SciPy's solvers; prints what that test holds ours to.

A pot that dries: weight = empty + water * exp(-use * days), twelve weights of which one is 1.5 kg
off, under Student's t of 4 degrees of freedom; numbers standard normal beforehand. Needs Debian's
python3-scipy. Invented weights.
"""
import numpy
import scipy
from scipy.optimize import least_squares, minimize

days = numpy.arange(12.0)
weights = numpy.array([19.96, 18.71, 17.53, 16.68, 15.77, 16.61, 14.52, 13.94, 13.56, 13.10, 12.79, 12.42])
centre = numpy.array([9.0, 10.0, 0.2])
spread = numpy.array([2.0, 2.0, 0.1])
scale_kg = 0.05
freedom = 4.0


def off(x):
    empty, water, use = centre + spread * x
    return (weights - (empty + water * numpy.exp(-use * days))) / scale_kg


def cost(x):
    return (freedom + 1) / 2 * numpy.log1p(off(x) ** 2 / freedom).sum() + x @ x / 2


def rho(z):  # SciPy's loss of squared residuals: value, slope, curvature; the last three are priors
    value, slope, curve = z.copy(), numpy.ones_like(z), numpy.zeros_like(z)
    t = slice(0, len(weights))
    value[t] = (freedom + 1) * numpy.log1p(z[t] / freedom)
    slope[t] = (freedom + 1) / (freedom + z[t])
    curve[t] = -(freedom + 1) / (freedom + z[t]) ** 2
    return numpy.array([value, slope, curve])


start = numpy.zeros(3)
print("SciPy", scipy.__version__)
found = least_squares(lambda x: numpy.concatenate([off(x), x]), start, loss=rho, xtol=1e-15, ftol=1e-15, gtol=1e-12)
print("least_squares", repr(found.x), repr(found.cost))
other = minimize(cost, found.x, method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-14, "maxiter": 10000})
print("Nelder-Mead  ", repr(other.x), repr(other.fun))
