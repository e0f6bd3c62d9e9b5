#include "command/record.hpp"

#include "command/check_text.hpp"
#include "command/survey_text.hpp"
#include "files/sign_state.hpp"

namespace culmwright::command {

namespace {

const char* word(Origin origin) {
  switch (origin) {
    case Origin::given:
      return "given";
    case Origin::proposed:
      return "proposed";
    case Origin::transferred:
      return "transferred";
    case Origin::shifted:
      return "shifted";
    case Origin::measured:
      return "measured";
    case Origin::drilled:
      break;
  }
  return "drilled";
}

JsonValue holes_json(const Job& job) {
  JsonValue holes = JsonValue::array();
  for (const PlacedKey& key : job.instrument.keys) {
    const WallRange wall = wall_along_axis(job.fit.tube(), key.drilling);
    holes.push(JsonValue::object()
                   .set("id", key.key.id)
                   .set("at", key.place.at)
                   .set("around", key.place.around)
                   .set("along_from_mouth", key.along)
                   .set("around_from_key_line", key.around)
                   .set("diameter", key.key.hole_diameter)
                   .set("skin_point", point_json(key.drilling.point))
                   .set("axis", point_json(key.drilling.axis))
                   .set("wall", key.wall)
                   .set("wall_sigma", job.fit.wall_sigma(key.place.at, key.theta))
                   .set("wall_least", wall.least)
                   .set("wall_greatest", wall.greatest)
                   .set("tilt_deg", key.tilt.degrees())
                   .set("origin", word(key.origin))
                   .set("locked", key.locked));
  }
  return holes;
}

JsonValue placed_parts_json(const Instrument& instrument) {
  JsonValue parts = JsonValue::array();
  for (const PlacedPart& part : instrument.parts) {
    parts.push(JsonValue::object()
                   .set("id", part.part.id)
                   .set("at", part.place.at)
                   .set("around", part.place.around)
                   .set("along_from_mouth", part.along)
                   .set("around_from_key_line", part.around)
                   .set("length", part.part.length)
                   .set("width", part.part.width)
                   .set("point", point_json(part.point))
                   .set("normal", point_json(part.normal)));
  }
  return parts;
}

JsonValue gate_json(const std::vector<MadePart>& parts) {
  JsonValue entries = JsonValue::array();
  for (const MadePart& part : parts) {
    for (const GateEntry& entry : part.gate) {
      JsonValue json = JsonValue::object()
                           .set("part", entry.part)
                           .set("moved_by", entry.nudge)
                           .set("outcome", entry.failure.empty() ? "sound" : entry.failure);
      if (!entry.meshing.empty()) json.set("general_mesher", entry.meshing);
      entries.push(std::move(json));
    }
  }
  return entries;
}

/// The values that all of this was made from, in the digests that a signature holds for.
JsonValue documents_json(const Job& job) {
  const Signature now = signature_for(job.placement->value, job.tube->value, job.key_layout->value, job.shop);
  JsonValue digests = JsonValue::object();
  digests.set("tube", now.tube.digest).set("key_layout", now.key_layout.digest);
  if (now.shop) digests.set("shop", now.shop->digest);
  return digests.set("placement", now.placement.digest);
}

JsonValue parts_json(const std::vector<MadePart>& parts, const std::string& folder) {
  JsonValue list = JsonValue::array();
  for (const MadePart& part : parts) {
    if (part.stem.rfind(folder, 0) == 0) list.push(part.record);
  }
  return list;
}

}  // namespace

JsonValue record_json(const Job& job, const std::vector<MadePart>& parts,
                      const std::map<std::string, std::string>& digests) {
  const Instrument& instrument = job.instrument;
  JsonValue files = JsonValue::array();
  for (const auto& [name, digest] : digests) {
    files.push(JsonValue::object().set("name", name).set("sha256", digest));
  }
  JsonValue rules = JsonValue::array();
  for (const Finding& finding : job.findings) rules.push(finding_json(finding));
  JsonValue record = JsonValue::object();
  record.set("format", "culmwright record")
      .set("version", 1)
      .set("program", CULMWRIGHT_VERSION)
      .set("tube", instrument.tube_id)
      .set("key_layout", instrument.layout_id)
      .set("placement", instrument.id)
      .set("revision", instrument.revision)
      .set("draft", !instrument.sign.signed_off())
      .set("sign", sign_json(instrument.sign))
      .set("documents", documents_json(job))
      .set("mouth_end", instrument.mouth_end == End::a ? "A" : "B")
      .set("mouth_cut_at", instrument.mouth_cut_at)
      .set("foot_cut_at", instrument.foot_cut_at)
      .set("facing_deg", instrument.facing.degrees())
      .set("holes", holes_json(job))
      .set("parts", placed_parts_json(instrument))
      .set("guides", parts_json(parts, "guides/"))
      .set("sleeves", parts_json(parts, "sleeves/"))
      .set("cups", parts_json(parts, "cups/"))
      .set("collars", parts_json(parts, "collars/"))
      .set("body", parts_json(parts, "tube"))
      .set("mock_up", parts_json(parts, "mock-up/"))
      .set("cradles", parts_json(parts, "cradles/"))
      .set("backing", parts_json(parts, "backing/"))
      .set("plates", parts_json(parts, "plates/"))
      .set("fitted", parts_json(parts, "fitted/"))
      .set("assembly", parts_json(parts, "assembly"))
      .set("rules", std::move(rules))
      .set("gate", gate_json(parts))
      .set("survey", survey_json(job.fit, report_on(job.fit)))
      .set("files", std::move(files));
  if (const auto balance = balance_of(job)) record.set("balance", balance_json(*balance));
  return record;
}

}  // namespace culmwright::command
