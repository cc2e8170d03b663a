#!/usr/bin/env python3
"""The same water account as somebody would write it in Python, for bench/run.sh to set beside the batch run.

Our own writing, for this purpose. Prints nanoseconds of processor time a pot-day, the best of some repetitions:
  plain  4,096 pots as NumPy arrays, a day at a time, pots so big that nothing crosses an edge: the physics of a plain
         day (demand of crown, top and wall, finger test, top layer on its line and falling off, watering until it
         drains, sums), one visit a day
  edges  the same for pots of which most cross edges: what is not plain goes through the regions in pieces, masked,
         with a formula or Newton's rule for the instant of an edge
  loop   a pot at a time in plain Python, of a mere bucket: demand, stress below a threshold, watering
Days are invented: demand swings over the season.
"""
import time

import numpy as np

POTS = 4096
DAYS = 128
REPETITIONS = 3


def demand(day):
    """mm of a wet surface, of a plant, and of rain."""
    swing = 0.6 + 0.4 * np.sin(2.0 * np.pi * day / 40.0)
    return 5.0 * swing, 6.0 * swing, 8.0 if day % 6 == 0 else 0.0


class Pots:
    def __init__(self, litres):
        random = np.random.default_rng(1)
        self.litres = random.uniform(litres, 1.5 * litres, POTS)
        size = np.minimum((self.litres / 37.0) ** 0.5, 1.0)
        self.plan_m2 = 0.35 * size
        self.top_m2 = 0.13 * (self.litres / 37.0) ** (2.0 / 3.0)
        self.wall_per_mm = np.where(random.random(POTS) < 0.3, 0.05 * self.top_m2, 0.0)
        self.available = 0.30 * self.litres
        self.air_dry = 0.42 * self.litres
        self.rew = 6.0 * self.top_m2
        self.tew = 16.0 * self.top_m2
        self.refilled = 0.45 * self.litres
        self.rewet = 0.12 * self.litres
        self.top_draw_share = np.full(POTS, 0.25)
        self.top_dry_limit = 8.0 * self.top_m2
        self.rooted = np.zeros(POTS)
        self.top = np.zeros(POTS)
        self.watered = np.zeros(POTS)
        self.drained = np.zeros(POTS)
        self.used = np.zeros(POTS)
        self.finger_days = np.zeros(POTS)
        self.stressed_days = np.zeros(POTS)
        self.use_by_day = np.zeros((DAYS, POTS))
        self.edged = np.zeros(POTS, dtype=bool)  # today
        self.edged_days = 0


def rates(p, surface_mm, plant_mm, rain_mm):
    covered = np.minimum(p.plan_m2 / p.top_m2, 1.0)
    bare = 1.1 * surface_mm * (1.0 - covered * 0.7) * p.top_m2
    held_mm = min(rain_mm, 1.0)
    plant = np.maximum(plant_mm * p.plan_m2 - held_mm * p.plan_m2, 0.0)
    caught = p.top_m2 * ((1.0 - covered) * rain_mm + covered * (rain_mm - held_mm) * 0.6)
    return plant, p.wall_per_mm * surface_mm, bare, caught


def pour(p, litres):
    dry = p.refilled - p.rooted < p.rewet
    room = np.where(dry, 0.6, 1.0) * np.maximum(p.rooted, 0.0)
    taken = np.minimum(litres, room)
    p.rooted -= taken
    p.top = np.maximum(p.top - litres, 0.0)
    p.drained += litres - taken


def plain_interval(p, plant, wall, top_rate, dx, raw):
    """Where D ends, and what the top loses, if no edge is met; and where that is so."""
    wet_for = np.clip((p.rew - p.top) / top_rate, 0.0, dx)
    in_line = top_rate * wet_for
    remaining = np.exp(-top_rate / (p.tew - p.rew) * (dx - wet_for))
    top = in_line + np.maximum(p.tew - p.top - in_line, 0.0) * (1.0 - remaining)
    end = p.rooted + (plant + wall) * dx + top
    return end, top, end <= raw


def through_edges(p, which, plant, wall, top_rate, dx, raw):
    """The pots of `which` through the regions of their depletion, piece by piece."""
    plant, wall, top_rate, raw = plant[which], wall[which], top_rate[which], raw[which]
    taw, air_dry, rew, tew = p.available[which], p.air_dry[which], p.rew[which], p.tew[which]
    start = p.rooted[which]
    d, de, gone = start.copy(), p.top[which], np.zeros(len(which))
    open_ = gone < dx
    while open_.any():
        full, falls, dry = d < raw, (d >= raw) & (d < taw), d >= air_dry
        slope = (plant + wall) / (taw - raw)
        a = np.where(full, plant + wall, np.where(falls, slope * taw, 0.0))
        b = np.where(falls, slope, 0.0)
        edge = np.where(full, raw, np.where(falls, taw, air_dry))
        a, b = np.where(dry, 0.0, a), np.where(dry, 0.0, b)
        wet = de < rew
        k = np.where(wet | dry, 0.0, top_rate / (tew - rew))
        q = np.where(dry, 0.0, np.where(wet, top_rate, k * np.maximum(tew - de, 0.0)))
        t_most = np.minimum(dx - gone, np.where(wet & (q > 0.0), (rew - de) / np.maximum(q, 1e-300), 1e300))
        safe_b, apart = np.where(b == 0.0, 1.0, b), np.where(np.abs(b - k) < 1e-9, 1e-9, b - k)

        def after(t):
            left, top_left = np.exp(-b * t), np.exp(-k * t)
            own = np.where(b == 0.0, t, (1.0 - left) / safe_b)
            return d + (a - b * d) * own + q * np.where(k == b, t * left, (top_left - left) / apart)

        end = after(t_most)
        meets = open_ & ~dry & (end >= edge)
        t = t_most.copy()
        if meets.any():
            low, high, at = np.zeros_like(t), t_most, t_most / 2.0
            for _ in range(8):
                value = after(at) - edge
                rate = a - b * (value + edge) + q * np.exp(-k * at)
                low, high = np.where(value < 0.0, at, low), np.where(value < 0.0, high, at)
                step = at - value / np.where(rate > 0.0, rate, 1.0)
                at = np.where((step > low) & (step < high), step, (low + high) / 2.0)
            t = np.where(meets, at, t_most)
            end = np.where(meets, edge, after(t))
        top = np.where(k == 0.0, q * t, q * (1.0 - np.exp(-k * t)) / np.where(k == 0.0, 1.0, k))
        d = np.where(open_, np.maximum(end, d), d)
        de = np.where(open_, np.minimum(de + top, tew), de)
        gone = np.where(open_, np.where(t >= dx - gone, dx, gone + t), gone)
        open_ = gone < dx
    p.rooted[which], p.top[which] = d, de
    p.used[which] += d - start
    return d > raw


def interval(p, plant, wall, top_rate, dx, raw, edges):
    end, top, plain = plain_interval(p, plant, wall, top_rate, dx, raw)
    if not edges:
        p.used += end - p.rooted
        p.rooted, p.top = end, np.minimum(p.top + top, p.tew)
        return
    p.used += np.where(plain, end - p.rooted, 0.0)
    p.rooted = np.where(plain, end, p.rooted)
    p.top = np.where(plain, np.minimum(p.top + top, p.tew), p.top)
    which = np.flatnonzero(~plain)
    p.edged[which] = True
    if len(which):
        p.stressed_days[which] += through_edges(p, which, plant, wall, top_rate, dx, raw)


def season(p, edges, days_between):
    for day in range(DAYS):
        surface_mm, plant_mm, rain_mm = demand(day)
        plant, wall, top_rate, caught = rates(p, surface_mm, plant_mm, rain_mm)
        raw = 0.5 * p.available
        p.use_by_day[day] = plant + wall + top_rate
        if rain_mm > 0.0:
            pour(p, caught)
        felt_dry = p.top + p.top_draw_share * np.maximum(p.rooted - p.top, 0.0) >= p.top_dry_limit
        p.finger_days += felt_dry & (p.rooted < raw)
        interval(p, plant, wall, top_rate, 0.05, raw, edges)
        if day % days_between == 0:
            litres = np.maximum(p.rooted, 0.0) / 0.9
            p.watered += litres
            pour(p, litres)
        interval(p, plant, wall, top_rate, 0.95, raw, edges)
        p.edged_days += np.count_nonzero(p.edged)
        p.edged[:] = False
    window = np.cumsum(p.use_by_day, axis=0)
    return (window[7:] - window[:-7]).max(axis=0)


def bucket(pots):
    """One pot after the other, one store: what fits on a page."""
    litres = 0.0
    for pot in range(pots):
        available, store = 3.0 + 0.001 * pot, 3.0 + 0.001 * pot
        for day in range(DAYS):
            surface_mm, plant_mm, rain_mm = DAY_DEMANDS[day]
            store = min(store + 0.1 * rain_mm, available)
            share = store / available
            stress = 1.0 if share > 0.5 else share / 0.5
            store = max(store - 0.35 * plant_mm * stress - 0.02 * surface_mm, 0.0)
            if share < 0.4:
                litres += available - store
                store = available
    return litres


DAY_DEMANDS = [tuple(float(x) for x in demand(day)) for day in range(DAYS)]


def nanoseconds(work, pot_days):
    best = float("inf")
    for _ in range(REPETITIONS):
        begin = time.process_time()
        work()
        best = min(best, time.process_time() - begin)
    return 1e9 * best / pot_days


if __name__ == "__main__":
    print(f"plain {nanoseconds(lambda: season(Pots(200.0), False, 1), POTS * DAYS):.1f}")
    small = Pots(1.7)
    print(f"edges {nanoseconds(lambda: season(small, True, 1), POTS * DAYS):.1f}", end=" ")
    print(f"{small.edged_days / (REPETITIONS * POTS * DAYS):.2f} of the pot-days with an edge")
    print(f"loop {nanoseconds(lambda: bucket(200), 200 * DAYS):.1f}")
