"""Containers, boxes, cups, scales and materials; readings and sealed keys."""
