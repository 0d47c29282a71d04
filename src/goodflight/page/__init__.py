"""The local page: the same studies as the command line, in a browser on this machine.

`app` puts the pages together, `guard` keeps strangers out, `desk` holds the open project, `work`
runs studies beside the server. A page parses, asks one study and hands the answer to an output.
"""
