"""Eight rows of a table read into vectors and written back, each a turn of an 8 x 8 square.

The compiler makes good vectors of arithmetic over lanes, but reads eight rows of six numbers as
forty-eight single ones, which takes longer than all the arithmetic.  So the two moves are spelled
out as eight whole rows and shuffles.  They work on any processor; vectors it lacks are split.
"""

from typing import Any

from llvmlite import ir
from numba.core import types
from numba.extending import intrinsic

LANES = 8
_INDEX, _ROW = ir.IntType(64), ir.VectorType(ir.FloatType(), LANES)

_STEPS = (
    (1, (0, 8, 1, 9, 4, 12, 5, 13), (2, 10, 3, 11, 6, 14, 7, 15)),
    (2, (0, 1, 8, 9, 4, 5, 12, 13), (2, 3, 10, 11, 6, 7, 14, 15)),
    (4, (0, 1, 2, 3, 8, 9, 10, 11), (4, 5, 6, 7, 12, 13, 14, 15)),
)
"""Distance of the two rows mixed in each step of the turn, and which of their 16 numbers the lower
and the upper one take."""


def _turned(builder: Any, rows: list[Any]) -> list[Any]:
    """Eight vectors turned into columns: the usual three rounds of pairwise mixing."""

    def mixed(a: Any, b: Any, order: tuple[int, ...]) -> Any:
        return builder.shuffle_vector(a, b, ir.Constant(ir.VectorType(ir.IntType(32), 8), order))

    for apart, low, high in _STEPS:
        mixed_rows = list(rows)
        for k in range(LANES):
            if not k & apart:
                mixed_rows[k] = mixed(rows[k], rows[k + apart], low)
                mixed_rows[k + apart] = mixed(rows[k], rows[k + apart], high)
        rows = mixed_rows
    # The first two rounds leave the columns 1 and 2 (and 5 and 6) changed over.
    return [rows[k] for k in (0, 2, 1, 3, 4, 6, 5, 7)]


def _vector_at(builder: Any, data: Any, at: Any) -> Any:
    return builder.bitcast(builder.gep(data, [at]), _ROW.as_pointer())


def _row_of_lane(builder: Any, who: Any, first: Any, lane: int) -> Any:
    """Where the row of a lane begins in the table."""
    index = builder.load(builder.gep(who, [builder.add(first, _INDEX(lane))]))
    return builder.mul(builder.zext(index, _INDEX), _INDEX(LANES))


def _data(context: Any, builder: Any, kind: Any, array: Any) -> Any:
    return context.make_array(kind)(context, builder, array).data


@intrinsic
def fetch_rows(typingctx, table, who, first, w, at):  # noqa: ARG001 - the compiler's signature
    """``w[at + 8 a + l] = table[who.flat[first + l], a]`` for a table of eight columns."""

    def codegen(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        source, index, target = (
            _data(context, builder, signature.args[k], args[k]) for k in (0, 1, 3)
        )
        rows = [
            builder.load(
                _vector_at(builder, source, _row_of_lane(builder, index, args[2], k)), align=4
            )
            for k in range(LANES)
        ]
        for k, column in enumerate(_turned(builder, rows)):
            place = builder.add(args[4], _INDEX(LANES * k))
            builder.store(column, _vector_at(builder, target, place), align=4)
        return context.get_dummy_value()

    return types.void(table, who, types.intp, w, types.intp), codegen


@intrinsic
def return_rows(typingctx, table, who, first, w, at):  # noqa: ARG001 - likewise
    """``table[who.flat[first + l], a] = w[at + 8 a + l]``, lane after lane."""

    def codegen(context: Any, builder: Any, signature: Any, args: Any) -> Any:
        target, index, source = (
            _data(context, builder, signature.args[k], args[k]) for k in (0, 1, 3)
        )
        columns = [
            builder.load(
                _vector_at(builder, source, builder.add(args[4], _INDEX(LANES * k))), align=4
            )
            for k in range(LANES)
        ]
        for k, row in enumerate(_turned(builder, columns)):
            place = _vector_at(builder, target, _row_of_lane(builder, index, args[2], k))
            builder.store(row, place, align=4)
        return context.get_dummy_value()

    return types.void(table, who, types.intp, w, types.intp), codegen
