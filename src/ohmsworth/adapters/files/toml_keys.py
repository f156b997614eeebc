"""Keys and tables written into a TOML document where they belong: above the remark of what comes next.

The library counts a remark over a table to the table before it, and would put what is new below that remark.
"""

from __future__ import annotations

from typing import Any


def put(table: Any, key: str, value: object) -> None:
    """Write `key` of a document or of a table in it; a new one goes below the last key that is there."""
    import tomlkit
    from tomlkit.items import Table

    container = table.value if isinstance(table, Table) else table
    last = None if key in table else _last_key(container)
    if last is None:
        table[key] = value
    else:
        container._insert_after(last, key, tomlkit.item(value))


def put_table(table: Any, name: str, key: str, value: object) -> None:
    """Write a table `name` of one key into a table of tables; the remark that ends the last of them then follows it."""
    import tomlkit
    from tomlkit.items import Table

    new = tomlkit.table()
    new[key] = value
    last = next((one for one in reversed(list(table.values())) if isinstance(one, Table)), None)
    remarks = [] if last is None else _remarks_below(last.value)
    table[name] = new
    table[name].value.body.extend((None, remark) for remark in remarks)


def _last_key(container: Any) -> Any:
    """The last key before the first table; None where there is none, or the table stands in several places."""
    from tomlkit.items import AoT, Table

    found = None
    for key, item in getattr(container, "body", ()):
        if isinstance(item, AoT | Table):
            break
        found = found if key is None or key.is_dotted() else key
    return found


def _remarks_below(container: Any) -> list[Any]:
    """What stands below the last key of a table, taken out of it."""
    body = container.body
    keyed = [i for i, (key, _) in enumerate(body) if key is not None]
    below = body[keyed[-1] + 1 :] if keyed else []
    del body[len(body) - len(below) :]
    return [item for _, item in below]
