"""Files put together for taking away."""

import io
import zipfile
from collections.abc import Mapping


def zipped(files: Mapping[str, bytes | str]) -> bytes:
    """A zip of the files, in their order: content by name."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as folder:
        for name, content in files.items():
            folder.writestr(name, content)
    return packed.getvalue()
