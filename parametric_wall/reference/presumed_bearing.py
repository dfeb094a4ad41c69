"""What ground is presumed to bear under a footing, where nobody has tested it."""

from __future__ import annotations

from parametric_wall.reference.tables import Limit, table


def presumed(ground: str | None) -> Limit:
    """The pressure that ground is presumed to bear, 0 where none is presumed.

    BS 8004:1986, Table 1; weak ground by Approved Document A, Table 10 (from memory, confirm).

    Args:
        ground: kind of ground, as in the job file, a word without a unit; None where it is
            not known, for which firm clay is taken.

    Returns:
        The pressure, in kPa, under the name of the ground that it is of.

    Raises:
        ValueError: the ground is not known.
    """
    rows = table("presumed_bearing")
    name = rows["ASSUMED"] if ground is None else ground
    if name not in rows["ground"]:
        msg = f"ground must be one of {', '.join(rows['ground'])}; not {name}"
        raise ValueError(msg)
    row = rows["ground"][name]
    return Limit(name, float(row["kPa"]), "kPa", row["source"], row["standing"])
