"""A recipe file from the visitor's own machine."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from billet import RecipeError, load_recipe_text
from web.http.address import RecipeMapping
from web.http.problems import Problem
from web.http.request_parsing import links_of, units_of
from web.routes.design import judge, judged_page, page_without_address
from web.service import ServiceDep

router = APIRouter(include_in_schema=False)


async def sent_file(request: Request) -> bytes:
    """The file of the field `file`. Raises Problem 415 or 422."""
    media_type = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if media_type != "multipart/form-data":
        raise Problem(415, "send the file as a form with a field `file` (multipart/form-data)")
    async with request.form(max_files=1, max_fields=20) as form:
        sent = form.get("file")
        if not isinstance(sent, UploadFile):
            raise Problem(422, "choose a recipe file first")
        return await sent.read()


@router.post("/upload")
def upload(request: Request, service: ServiceDep, content: Annotated[bytes, Depends(sent_file)]) -> Response:
    """The plan of the file; where it is refused, its form with the faults."""
    mapping = _mapping(content)
    links = links_of(request, units_of(request), mapping)
    report, _ = judge(service, mapping)
    if links.address is None and report is not None:
        return page_without_address(service, links, mapping, report)
    if links.address is None:
        return judged_page(service, request, units_of(request), mapping, bad_status=422)
    return RedirectResponse(links.plan if report is not None else links.design, status_code=303)


def _mapping(content: bytes) -> RecipeMapping:
    try:
        return dict(load_recipe_text(content.decode("utf-8-sig")))
    except RecipeError as error:
        raise Problem(422, "the file is no recipe", error.faults) from None
    except UnicodeDecodeError:
        raise Problem(422, "the file is no recipe: it is not text in UTF-8") from None
