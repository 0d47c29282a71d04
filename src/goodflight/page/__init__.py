"""The local page: the same studies as the command line, in a browser on this machine.

`app` puts the pages together, `guard` keeps strangers out, `open_project` holds the project,
`work` runs studies beside the server. A page parses, asks one study, hands the answer to an output.
"""
