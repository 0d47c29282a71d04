"""Workshop papers and files: true-size PDF, SVG, DXF, STL, 3MF, order of assembly, build book."""
