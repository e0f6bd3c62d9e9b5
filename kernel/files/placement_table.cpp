#include "files/tables.hpp"
#include "files/tracked.hpp"

namespace culmwright::files {

namespace {

Codec<Tracked<double>> tracked_length(double least, double greatest) {
  return tracked(length(least, greatest), length(0, 100));
}

Codec<Tracked<Angle>> tracked_degrees() {
  // The error of an angle is kept in radians, as angles are.
  Codec<double> error = scaled(0, 180, "degrees", pi / 180.0);
  return tracked(degrees(-360, 360), error);
}

Codec<PlacedId> placed() {
  return object(Table<PlacedId>("a placed key or part")
                    .required("id", &PlacedId::id, identifier(), "As in the key layout")
                    .required("at", &PlacedId::at, tracked_length(-longest_tube, longest_tube),
                              "From the datum mark toward end B")
                    .required("around", &PlacedId::around, tracked_length(-greatest_girth, greatest_girth),
                              "Along the skin from the reference line to the right"));
}

Codec<Held> held() {
  const Codec<Tracked<double>> cut = tracked_length(-longest_tube, longest_tube);
  return object(
      Table<Held>("how the tube was held")
          .required("mouth_end", &Held::mouth_end, end_name(), "Which end of the tube was the mouth end")
          .required("mouth_cut_at", &Held::mouth_cut_at, cut, "Where the mouth end was to be cut")
          .required("foot_cut_at", &Held::foot_cut_at, cut, "Where the foot end was to be cut")
          .required("facing_deg", &Held::facing, tracked_degrees(), "The played front"));
}

Codec<Earlier> earlier() {
  return object(Table<Earlier>("what stood before a revision")
                    .with_default("keys", &Earlier::keys, list(placed(), 0, most_keys, "keys"),
                                  "Keys that were moved, as they stood")
                    .with_default("parts", &Earlier::parts, list(placed(), 0, 100, "parts"),
                                  "Parts that were moved, as they stood")
                    .with_default("unlisted", &Earlier::unlisted,
                                  list(identifier(), 0, most_keys + 100, "ids"),
                                  "Keys and parts that stood where the key layout puts them")
                    .optional("left_mark", &Earlier::left_mark, object(hand_mark_table()),
                              "The left hand's mark, where it differed from the key layout's")
                    .optional("right_mark", &Earlier::right_mark, object(hand_mark_table()),
                              "The right hand's mark, where it differed from the key layout's")
                    .optional("held", &Earlier::held, held(), "Mouth end, cuts and facing, if changed"));
}

Codec<Revision> revision() {
  return object(
      Table<Revision>("a revision")
          .required("number", &Revision::number, whole_number(1, latest_revision), "1, 2, 3 …")
          .with_default("date", &Revision::date, day(), "The day it was made")
          .with_default("what", &Revision::what, note_text(), "What was changed")
          .optional("signature", &Revision::signature, object(signature_table()),
                    "Signed off for drilling; without it every output says DRAFT")
          .optional("before", &Revision::before, earlier(), "What it changed, as it stood: for undoing it")
          .optional("undoes", &Revision::undoes, whole_number(1, latest_revision),
                    "The number of the revision that this one takes back"));
}

Table<Placement> placement_fields() {
  using P = Placement;
  const Codec<Tracked<double>> cut = tracked_length(-longest_tube, longest_tube);
  return Table<P>("a placement")
      .required("id", &P::id, identifier(), "The instrument's short name")
      .required("tube", &P::tube_id, identifier(), "The id of its tube")
      .required("key_layout", &P::layout_id, identifier(), "The id of its key layout")
      .with_default("note", &P::note, note_text(), "In your own words")
      .required("mouth_end", &P::mouth_end, end_name(), "Which end of the tube becomes the mouth end")
      .required("mouth_cut_at", &P::mouth_cut_at, cut,
                "Where the mouth end is cut, from the datum mark toward end B")
      .required("foot_cut_at", &P::foot_cut_at, cut,
                "Where the foot end is cut, from the datum mark toward end B")
      .required("facing_deg", &P::facing, tracked_degrees(),
                "The played front, from the reference line to the right of the one who looks at it, A up")
      .optional("left_mark", &P::left_mark, object(hand_mark_table()),
                "The left hand's mark, where it differs from the key layout's")
      .optional("right_mark", &P::right_mark, object(hand_mark_table()),
                "The right hand's mark, where it differs from the key layout's")
      .with_default("keys", &P::keys, list(placed(), 0, most_keys, "keys"),
                    "Keys that do not stand where the key layout puts them")
      .with_default("parts", &P::parts, list(placed(), 0, 100, "parts"),
                    "Parts that do not stand where the key layout puts them")
      .with_default("revisions", &P::revisions, list(revision(), 0, 10000, "revisions"),
                    "What was changed when, oldest first; entries are only ever added");
}

Table<Workshop> workshop_fields() {
  using W = Workshop;
  return Table<W>("a workshop")
      .required("id", &W::id, identifier(), "The workshop's short name")
      .with_default("note", &W::note, note_text(), "In your own words")
      .required("tubes", &W::tubes, list(file_name(), 1, 1000, "file names"), "Files of the tubes")
      .required("key_layouts", &W::key_layouts, list(file_name(), 1, 100, "file names"),
                "Files of the key layouts")
      .required("shop", &W::shop, file_name(), "File of the shop")
      .with_default("placements", &W::placements, list(file_name(), 0, 1000, "file names"),
                    "Files of the placements, one for each instrument to be made")
      .with_default("as_drilled", &W::as_drilled, list(file_name(), 0, 1000, "file names"),
                    "Files of what was drilled already, at most one for each placement");
}

}  // namespace

Codec<Origin> origin_name() {
  return choice<Origin>({{"given", Origin::given},
                         {"proposed", Origin::proposed},
                         {"transferred", Origin::transferred},
                         {"shifted", Origin::shifted},
                         {"measured", Origin::measured},
                         {"drilled", Origin::drilled}});
}

const Table<Placement>& placement_table() {
  static const Table<Placement> table = placement_fields();
  return table;
}

const Table<Workshop>& workshop_table() {
  static const Table<Workshop> table = workshop_fields();
  return table;
}

}  // namespace culmwright::files
