"""The local page: the same studies as the command line, in a browser on this machine.

`app` puts the sheets together, `guard` keeps strangers out, `desk` holds the open project, `work`
runs studies beside the server. A sheet parses, asks one study and hands the answer to an output.
"""
