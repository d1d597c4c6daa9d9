"""Painting less: a repaint asks only those widgets that stand in it, and of them only the lines
that changed.

Textual asks every widget on the screen for all of its lines at each repaint, and throws most of
them away. For a cursor that moves by a row that is most of the work. What is painted is the same;
tests compare the two. This is the one module that reaches into Textual's inside: with another
version of it, tests/screens/test_painting.py tells whether it still fits.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from textual._compositor import Compositor
from textual.app import App
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget


class NearCompositor(Compositor):
    """Puts widgets together as Textual does, and leaves out what a repaint does not show."""

    def _get_renders(
        self, crop: Region | None = None
    ) -> Iterable[tuple[Region, Region, list[Strip]]]:
        """Each widget's place, the part of it that is painted, and that part's lines; the widgets
        in front come first.

        A widget that stands wholly behind one in front of it is left out: the one in front is
        painted over it.
        """
        painted: list[Region] = []
        for widget, (region, clip) in self.visible_widgets.items():
            part = wanted = region.intersection(clip)
            if crop is not None:
                part = part.intersection(Region(part.x, crop.y, part.width, crop.height))
                wanted = part.intersection(crop)
            if not wanted or any(one.contains_region(wanted) for one in painted):
                continue
            painted.append(part)
            yield region, part, widget.render_lines(part.translate(-region.offset))


OF_THE_SCREEN = (
    "_layout_required",
    "_scroll_required",
    "_repaint_required",
    "_compositor",
    "_dirty_widgets",
    "_compositor_refresh",
)
"""Names of Textual's inside that painting at once asks of a screen."""


def fits(widget: Widget) -> bool:
    """Whether this version of Textual has every name that painting at once asks for."""
    screen = widget.screen
    return (
        all(hasattr(screen, name) for name in OF_THE_SCREEN)
        and hasattr(screen.app, "_batch_count")
        and hasattr(screen._compositor, "update_widgets")
        and hasattr(widget, "_set_dirty")
    )


def paint_now(widget: Widget, regions: Sequence[Region]) -> None:
    """Paint parts of a widget at once, where nothing else waits to be painted; else with all that
    waits.

    Textual hands a repaint on from widget to screen to a timer; of a cursor that moves by a row
    that is a fifth of the time. Where a version of Textual lacks a name for it, Textual paints as
    it does by itself.
    """
    if not fits(widget):
        widget.refresh(*regions)
        return
    screen = widget.screen
    waits = screen._layout_required or screen._scroll_required or screen._repaint_required
    if (
        waits
        or not screen.is_current
        or screen.app._batch_count
        or not isinstance(screen._compositor, NearCompositor)
    ):
        widget.refresh(*regions)
        return
    widget._set_dirty(*regions)
    screen._dirty_widgets.add(widget)
    screen._compositor.update_widgets(screen._dirty_widgets)
    screen._compositor_refresh()


def end_with_trace(app: App[Any]) -> None:
    """End the screens over a defect with where it happened, as Textual does, but without the values
    that people typed.
    """
    from rich.segment import Segments
    from rich.traceback import Traceback

    app.bell()
    trace = Traceback(show_locals=False, width=None)
    app._exit_renderables.append(Segments(app.console.render(trace, app.console.options)))
    app._close_messages_no_wait()
