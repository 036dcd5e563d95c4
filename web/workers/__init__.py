"""Answers that take computing, made in processes of their own.

The process that listens keeps to what is quick. A page that needs a plan is asked for whole: the request
goes to a worker process, the finished answer comes back. So a computation slows no other page, and it
can be ended: at its deadline, or when nobody waits for it any more.
"""
