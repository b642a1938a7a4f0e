"""Bars pressed and bent at once: what a straight tube carries between its joints, sideways sway left out."""

from typing import NamedTuple

import numpy as np

from tintop.physics.frame import (
    AXIAL,
    BEND_Y_END,
    BEND_Y_START,
    BEND_Z_END,
    BEND_Z_START,
    TORSION,
    FloatArray,
)
from tintop.physics.frame_limit import Strength

_ALONG = np.linspace(0.0, 1.0, 23)[1:-1]  # of a bar's length; its ends are the frame's office
_HALVINGS = 45
_NEARLY_EULER = 1.0 - 1e-12


class Struts(NamedTuple):
    """Each bar as a strut, (m,) each: its own Euler's load [N] and that at which its tube buckles [N].

    A tube bent on its way is several bars between two joints: `start` and `end` are where along it a bar
    begins and ends, 0 and 1 for a bar from joint to joint.
    """

    euler: FloatArray
    buckling: FloatArray
    start: FloatArray
    end: FloatArray


def bent_strut_excess(strength: Strength, struts: Struts, bar_forces: FloatArray) -> FloatArray:
    """Give how far (m,) each bar is past its limit, in shares of its plastic moment; -1 in tension.

    On its way two bendings together stay below the plastic moment that axial force and torsion leave: that of
    a straight beam-column with these end moments, swollen by its axial force, and that of a crookedness that
    alone would end the tube at its buckling load. What moves at a bend is the frame's office.
    Source: S. P. Timoshenko and J. M. Gere, Theory of Elastic Stability, ch. 1, beam-columns (from memory);
    plastic moment as `frame_limit.plastic_use`; the crookedness is our own, in the way of Ayrton and Perry.
    """
    push = np.maximum(-bar_forces[:, AXIAL], 0.0)
    left = np.sqrt(np.maximum(1.0 - (bar_forces[:, TORSION] / strength.torsion) ** 2, 0.0))
    straight, crooked = (_left_of(left, push / limit) for limit in (strength.squash, struts.buckling))
    angle = np.pi * np.sqrt(np.minimum(push / struts.euler, _NEARLY_EULER))[:, None]
    start = bar_forces[:, (BEND_Z_START, BEND_Y_START)]
    end = bar_forces[:, (BEND_Z_END, BEND_Y_END)]
    from_start, from_end = (_swollen(angle, share) for share in (1.0 - _ALONG, _ALONG))
    bent = from_end[..., None] * end[:, None, :] - from_start[..., None] * start[:, None, :]
    wave = np.sin(np.pi * (struts.start[:, None] + (struts.end - struts.start)[:, None] * _ALONG))
    asked = np.linalg.norm(bent, axis=-1) / strength.bending[:, None] + (straight - crooked)[:, None] * wave
    return np.where(push > 0.0, asked.max(axis=1) - straight, -1.0)


def bent_strut_use(strength: Strength, struts: Struts, bar_forces: FloatArray) -> FloatArray:
    """Give the share (m,) that each bar uses as a bent strut: one over the multiple of its forces it carries.

    Without bending the share of its buckling load; 0 in tension.
    Source: as `bent_strut_excess`.
    """
    push = np.maximum(-bar_forces[:, AXIAL], 0.0)
    is_pushed = push > 0.0
    most = struts.buckling / np.where(is_pushed, push, struts.buckling)
    low, high = np.zeros_like(most), most
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        is_beyond = bent_strut_excess(strength, struts, middle[:, None] * bar_forces) >= 0.0
        low, high = np.where(is_beyond, low, middle), np.where(is_beyond, middle, high)
    return np.where(is_pushed, 1.0 / high, 0.0)


def _left_of(left: FloatArray, used: FloatArray) -> FloatArray:
    """The share of plastic moment that a share of axial strength leaves; torsion has left `left` of yield."""
    spare = np.maximum(left, 1e-12)
    return np.asarray(left * np.cos(0.5 * np.pi * np.minimum(used / spare, 1.0)))


def _swollen(angle: FloatArray, share: FloatArray) -> FloatArray:
    """The share (m, places) of an end's moment that a pressed bar has so far from its other end."""
    pressed = np.maximum(angle, 1e-6)
    return np.asarray(np.sin(pressed * share) / np.sin(pressed))
