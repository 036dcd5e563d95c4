"""The access log tells who asked for which page; what he asked with, his recipe, is not in it."""

import logging


class WithoutQuestions(logging.Filter):
    """Cuts the address at the question mark, as uvicorn hands it over: (client, method, address, ...)."""

    def filter(self, record: logging.LogRecord) -> bool:
        if isinstance(record.args, tuple) and len(record.args) > 2:
            client, method, address, *rest = record.args
            record.args = (client, method, str(address).partition("?")[0], *rest)
        return True


def keep_recipes_out_of_the_log() -> None:
    """Take recipes out of uvicorn's access log; asking twice changes nothing."""
    log = logging.getLogger("uvicorn.access")
    if not any(isinstance(each, WithoutQuestions) for each in log.filters):
        log.addFilter(WithoutQuestions())
