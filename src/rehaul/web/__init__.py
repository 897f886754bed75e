"""The job in a browser: a server for this machine or the local network, and its pages.

This front imports nothing: what reads one picture in a process of its own would bring the whole server along.
"""
