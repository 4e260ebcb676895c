"""One question a module: what is worth knowing before cutting?"""
