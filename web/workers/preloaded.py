"""What every worker process has loaded before it is forked: the application, its templates, and the tables
of a plan.

Nothing but the process that workers are forked from imports this.
"""

from billet import example_recipes, plan, study, uncertainty
from web import app
from web.rendering import make_environment

_environment = make_environment()
_templates = [_environment.get_template(name) for name in _environment.list_templates()]
_planned = plan(next(iter(example_recipes().values())))
_loaded = (app, _templates, _planned.report, study(_planned), uncertainty(_planned))
