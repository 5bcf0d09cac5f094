"""Fixtures: example jobs worked out once, and jobs made from them."""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jobs import EXAMPLES, ROOT, changed, planned

from planner.job.reading import job_from
from planner.job.tables import Job
from planner.output.plan import Plan

gc.set_threshold(100_000, 50, 100)
"""Thousands of collected tests stay to the end: to look through them all at every few objects made
takes a tenth of the run."""

COSTLY = {
    "output/test_package.py": (
        "the_manifest_lists csv_and_json every_part no_file_carries the_same_job an_untouched"
        " a_failure_half_way a_torch the_sheets_are a_sheet_that each_sheet each_page"
    ),
    "output/test_rebuild.py": "an_unchanged_job after_a_change_of a_kept_warning the_book_has",
    "output/test_crash.py": (
        "a_process_killed real_processes what_the_user_does a_failure_at_any_step[interrupted"
        " a_failure_at_any_step[no_permission a_failure_at_any_step[full_disk-exchange"
    ),
    "cli/test_net.py": (
        "a_build_that a_library_that_is_not_installed_is_named_with_the_command_that_installs_it[tab"
        " a_library_that_is_not_installed_is_named_with_the_command_that_installs_it[sh a_reader"
        " without_a_folder an_interrupt clicks_own an_answer_that"
    ),
    "cli/test_ready.py": "a_terminal_without this_computer",
    "output/test_schemas.py": "the_files_of_a_package",
    "sizing/test_sizing.py": (
        "the_bound_grows"
        " an_impossible_ball_is_refused_with_a_bound_that_holds[110"
        " an_impossible_ball_is_refused_with_a_bound_that_holds[80"
        " an_impossible_ball_is_refused_with_a_bound_that_holds[42"
    ),
    "turning/test_spoiled.py": "",
    "geometry/test_edges.py": "the_edges",
    "dial/test_dial.py": "every_count numerals_do",
    "output/test_names.py": "every_name_in_the_examples",
    "record/test_writing.py": "a_crash_at_any_step",
    "dxf/test_dxf_files.py": "the_same_bytes_from another_hash_seed",
    "page/test_browser.py": "",
    "page/test_way.py": "",
    "page/test_sight.py": "",
    "page/test_watching.py": "it_is_built_again",
    "page/test_correct_js.py": "thousands every_ball",
    "scene/test_scene.py": "",
}
"""Of files whose other tests are quick: those that build a whole package, wait for processes, look for
the largest ball that is possible, or spoil plans one by one."""

QUICK_SOLIDS = (
    *(
        "every_feature_type",
        "a_feature_type",
        "a_missing_kernel",
        "a_library_is",
        "the_kernel_loads_what",
        "ctrl_c",
        "knob_is",
        "tool_bit",
    ),
    *("turned_parts", "dial_lines", "dial_is_a_ring", "a_notch", "a_ball_ground", "a_cylinder"),
    *("a_part_cut_in_two", "bought_items", "an_unknown", "first_angle", "where_a_hole"),
    *("a_file_is_written", "solids_are_placed", "the_nose_of_the_bit"),
    "every_part_is_one_sound_solid_smaller_than_its_stock[bench-lathe]",
    "every_part_fills_the_box_its_sizes_give[bench-lathe]",
    "housing_is_a_bored_tube_with_a_flat_and_a_shank[bench-lathe]",
    "a_part_is_one_named_coloured_solid_in_millimetres[bench-lathe]",
)
QUICK = (
    *(f"solids/test_solids.py::test_{name}" for name in QUICK_SOLIDS),
    "solids/test_index_mark.py::test_mark_and_lines_meet_on_one_rim[bench-lathe]",
    "solids/test_by_hand.py",
)
"""Tests of single solids, a few hundredths of a second each: run by default, kernel or no."""

PRINTED = ("no_words_stand", "no_leader_crosses", "gdal_finds")

WALKED_WHOLE = (
    *("on_the_faceplate", "along_the_rod", "soft_jaws", "counterbores", "laid", "wheels", "nuts"),
    *(
        "slides_travel",
        "eased",
        "grip_deep",
        "spots_through",
        "pieces_flush",
        "piloted",
        "sold",
        "level_by_square",
        "blades",
        "feelers",
    ),
    *(
        "touched_sides",
        "depth_rods",
        "mouths",
        "bar_wrenches",
        "tipped",
        "long_mills",
        "off_parallels",
    ),
    *("countersunk", "packed_slits", "parted_long", "followed_speeds"),
    *("level_walls", "clamps_spared", "post_past_barrel", "relieved_faces"),
)
"""Faults put into routes that are planned for the one test and walked from end to end."""

ONE_OF_SEVERAL = {
    "walking/test_flames.py": (
        "bright_work_beside_a_weld_is_minded_by_the_process[TIG"
        " bright_work_beside_a_weld_is_minded_by_the_process[MIG"
        " bright_work_beside_a_weld_is_minded_by_the_process[stick"
        " a_flux_is_washed_off_before_anything_else[304"
        " a_flux_is_washed_off_before_anything_else[S355"
    ),
    "walking/test_few_drills.py": (
        "where_any_bar a_saw_that_is_bought"
        " a_block_is_drilled_wide_enough_for_a_bar_that_can_be_made[3"
        " a_housing_of_round_bar_is_drilled_by_what_leads_and_is_thick_enough[drills1"
    ),
    "walking/test_blind_bores.py": (
        "a_stout_bar a_drill_to_the_full_depth_is_refused[boat no_point_goes_past_the_bottom[boat"
    ),
    "walking/test_pointed.py": (
        "a_boring_bar a_point_in_metal_that_stays_is_refused[watch"
        " no_point_goes_through_the_bottom_of_the_spigot_bore[watch"
    ),
    "walking/test_one_by_one.py": "a_bar_is_drawn the_far_end",
    "walking/test_short_centre_drills.py": (
        "a_spot_deep_beside_the_root_wants_a_long_centre_drill[model"
    ),
    "walking/test_bushed.py": (
        "no_step_tells_of_a_bush_beside_the_hinge[engine"
        " no_step_tells_of_a_bush_beside_the_hinge[inch"
    ),
    "walking/test_words_of_machines.py": "a_bar_between_centres",
    "walking/test_corner_rounds.py": (
        "the_body_stops_short_of_the_round[repair pushed_home_it_is_refused[repair"
    ),
    "walking/test_wide_edges_fed.py": "a_facing_cutter_fed_as_a_pointed_tool_is_refused[farm",
    "walking/test_end_mills_held.py": "a_route_that_leaves",
    "walking/test_tacks.py": "the_fume",
    "walking/test_brought_across.py": "the_tube_is_brought_there_by_the_cross_slide[model",
    "walking/test_wide_chucks.py": "a_drill_for_m12",
    "walking/test_scraped.py": "",
    "walking/test_flats_long_said.py": "a_relief_without",
    "walking/test_short_at_the_centre.py": "",
    "walking/test_divided.py": (
        "a_dial_by_the_plate_behind_the_chuck[circles1"
        " a_dial_by_the_plate_behind_the_chuck[circles2"
    ),
    "making/test_brushed.py": "what_runs_in_aluminium",
    "making/test_serves_instead.py": "a_blind_bore",
    "making/test_slide_words.py": (
        "a_rod_shorter a_route_on_a_milling_slide_says_what_looks_to_the_spindle[engine"
    ),
    "making/test_sunk_depths.py": (
        "a_depth_below_another_hole_says_from_where[engine"
        " a_depth_below_another_hole_says_from_where[inch"
    ),
    "checking/test_post.py": "how_far_the_jaws_may_stand_out[behind",
    "book/test_page_breaks.py": "",
    "stock/test_off_the_bar.py": (
        "the_sawing_sheet_has_what_the_route_saws[20 the_sawing_sheet_has_what_the_route_saws[None"
    ),
    "book/test_decisions.py": "sheets_that_serve_for_nothing_have_no_chapter[[",
    "scene/test_things.py": (
        "every_thing_has_a_name_of_its_own_and_things_alike_a_mesh[engine"
        " every_thing_has_a_name_of_its_own_and_things_alike_a_mesh[inch"
    ),
    "stock/test_jobcopy.py": "only_a_copy",
    "cli/test_net.py": (
        "a_dash_too_few_or_of_a_word_processor_is_told[\\u2013"
        " a_dash_too_few_or_of_a_word_processor_is_told[\\u2212"
        " a_signal_as_a_command_is_loaded_waits_until_it_is[SIGTERM"
    ),
}
"""Routes of shops that are planned and walked, commands run and books made for the one test; of several
alike, and of a kind that a quicker test asks for too, one stays where it is run by default."""

MARKED = {
    "kernel": (
        *("solids/", "checking/test_clearance.py", "geometry/test_edges.py"),
        *("scene/test_scene.py", "page/test_browser.py"),
        *("page/test_way.py", "page/test_sight.py"),
        "walking/test_kernel_metal.py",
    ),
    "build": (
        "output/test_example.py",
        *(
            f"{file}::test_{name}"
            for file, names in (*COSTLY.items(), *ONE_OF_SEVERAL.items())
            for name in names.split() or [""]
        ),
        *("book/test_other_books.py", "book/test_route_blocks.py::test_every_operation"),
        *(
            f"book/test_book_digest.py::test_a_book_says_what_it_said[{e}"
            for e in ("bench", "engine")
        ),
        *(
            f"page/test_page_digest.py::test_a_page_says_what_it_said[{e}"
            for e in ("inch", "engine")
        ),
        "making/test_route_digest.py::test_a_route_says_what_it_said[job-",
        "making/test_route_digest.py::test_each_is_walked",
        "making/test_slit_ways.py",
        *(f"walking/test_{name}.py" for name in WALKED_WHOLE),
        *("making/test_asmade.py", "making/test_ball_stub.py", "making/test_sizes_said.py"),
        "making/test_level_readings.py",
        *("making/test_slender.py", "making/test_slender_bar.py", "making/test_touched.py"),
        "drawing/test_isometric_place.py",
        *("turning/test_optimum.py", "turning/test_simulated.py"),
        "stock/test_jobcopy.py::test_both_commands",
        "sizing/test_sizing.py::test_what_stands_in_the_way",
        "sizing/test_sizing.py::test_an_impossible_ball",
        "checking/test_strength.py::test_a_size_too_small",
        "cli/test_hostile.py::test_what_once_failed",
        "walking/test_edges.py::test_every_other_edge",
        "drawing/test_sheet_repeats.py",
        *("book/test_book.py", "barcut/test_no_clock.py"),
        *("book/test_several.py", "book/test_heights.py", "page/test_large_text.py"),
        *("cli/test_hostile.py::test_a_", "cli/test_shops.py::test_every"),
        "cli/test_cli.py::test_the_worked_example_of_build_runs",
        "cli/test_cli.py::test_the_worked_example_of_draw_runs",
        *("solids/", "checking/test_clearance.py", "checking/test_search.py"),
        *("drawing/test_sheets.py", "drawing/test_small_sheets.py", "cli/test_draw.py"),
        "drawing/test_flags.py",
        *("drawing/test_room_and_lanes.py", "drawing/test_dial_places.py"),
        *("drawing/test_signs.py", "drawing/test_whole_sheets.py", "drawing/test_drawn_digest.py"),
        *("sizing/test_nonsense.py", "walking/test_kernel_metal.py"),
        *(f"drawing/test_sheets_printed.py::test_{name}" for name in PRINTED),
        "drawing/test_sheets_read.py::test_what_the_sheets_say_is_the_part",
        "drawing/test_sheets_read.py::test_every_number_of_a_sheet_counts",
        "drawing/test_sheets_read.py::test_gdal_reads_as_many_of_each_kind",
        "test_architecture.py::test_a_topic_loads_the_kernel_only_when_its_entry_says_so",
        "test_architecture.py::test_commands_that_need_no_solid_never_load_the_kernel",
    ),
    "elements": (
        *("checking/test_fem.py", "checking/test_fem_block.py", "checking/test_spring_solids.py"),
    ),
}
"""What costs most, by what it runs: the CAD kernel, packages or commands in processes of their
own, solids and searches, whole routes and plans of passes by force, finite elements."""


def _whole(place: str, mark: str) -> bool:
    """Whether every test of a file has a mark."""
    named = {one.removesuffix("::test_") for one in MARKED[mark]}
    quick = {one.partition("::")[0] for one in QUICK if mark == "build"}
    return place not in quick and place.startswith(tuple(one for one in named if "::" not in one))


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """A file of which no test would be run is not read: what it imports costs too."""
    if not collection_path.name.startswith("test_"):
        return None
    place = collection_path.relative_to(Path(__file__).parent).as_posix()
    out = re.findall(r"\bnot (\w+)", config.getoption("markexpr"))
    return any(_whole(place, mark) for mark in MARKED.keys() & set(out)) or None


def pytest_collection_finish() -> None:
    """What is there now stays to the end: the collector of garbage need not look at it again."""
    gc.freeze()


def pytest_sessionfinish() -> None:
    """What is left is looked through once for what ended amiss, then let lie as the process ends."""
    gc.collect()
    gc.freeze()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the costly tests by where they stand."""
    tests = Path(__file__).parent
    for item in items:
        place = f"{item.path.relative_to(tests).as_posix()}::{item.name}"
        for mark, places in MARKED.items():
            if place.startswith(places) and not (mark == "build" and place.startswith(QUICK)):
                item.add_marker(mark)


@pytest.fixture(params=EXAMPLES, ids=lambda path: path.stem)
def plan(request: pytest.FixtureRequest) -> Plan:
    """Each example job, worked out."""
    return planned(request.param)


@pytest.fixture
def bench() -> Plan:
    """The metric bench lathe."""
    return planned(ROOT / "examples" / "bench-lathe.toml")


@pytest.fixture
def job_with() -> Callable[..., Job]:
    """A job made from an example, keys changed: ``job_with(**{"lathe.jaw_reach": 3})``."""

    def make(example: str = "bench-lathe", **changes: Any) -> Job:
        return job_from(changed(example, **changes), "job.toml")

    return make


@pytest.fixture(scope="session")
def packages(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path], Path]:
    """A job's package, built once in a run of the tests, to be read and not changed.

    Beside it what was told of its sheets as they were drawn.
    """

    @cache
    def package(job: Path) -> Path:
        from planner.output.package import build

        folder: Path = tmp_path_factory.mktemp("built") / "package"
        plan = planned(job)
        build(plan, folder, lambda _: None)
        rows = json.dumps([row | {"job": plan.job.name} for row in plan.sheets.rows()])
        (folder.parent / "rows.json").write_text(rows, encoding="utf-8")
        return folder

    return package
