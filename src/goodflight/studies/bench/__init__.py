"""What the builder takes to the workbench: true-size outlines, guides, order of assembly, lists.

Everything here is geometry and lists in SI; how it becomes paper or a file is in
`goodflight.outputs.bench`.
"""
