"""The tables that the commands print and the build writes, one module a topic.

Each takes what the planning modules return and makes words.tables of it; works nothing out.
Lengths in rows are millimetres (keys end in _mm); shown rows use the job's unit.
"""
