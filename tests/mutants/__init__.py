"""Wrong numbers and turned branches, one at a time in a copy of the tree: does a test fail?"""
