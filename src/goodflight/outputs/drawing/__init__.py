"""The workshop print of a rocket: side and end view, marks, parts list, title block."""
