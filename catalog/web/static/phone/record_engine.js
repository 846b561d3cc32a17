// The record's views, from the engine on this phone: the same code as the server's, translated.
import * as keep from "./keep.js";
import { plainly } from "./plainly.js";

const PHONE = "catalog.device.phone";

// A vehicle to ask for views of: {code, view, drawn, facts, alike, slip}. code: "any" for any vehicle.
export async function vehicle(code) {
  const { engine, field, edition, site } = await keep.ready();
  const { modules: m, py } = engine;
  const any = code === "any";
  const about = any ? { sources: {} } : await keep.meta(code);
  const record = any || about.withdrawn ? null : await keep.vehicle(code);
  const { Meta, Doubted, Ticked } = m[`${PHONE}.model`];
  const table = site.local_steps
    ? m["catalog.plan.site"].with_site(m["catalog.plan.table"].shipped_table(), py.fromJson(site.local_steps))
    : null;
  const meta = () => new Meta(
    any ? "" : code,
    edition.number,
    `edition ${edition.number}, ${edition.published_at.slice(0, 10)}`,
    about.seq ?? 0,
    Boolean(edition.demo ?? site.demo),
    about.withdrawn ?? "",
    (any ? [] : keep.doubts(code)).map((each) => new Doubted(each.path, each.label, each.reason)),
    py.dict(Object.entries(about.sources ?? {}).map(([key, source]) => [key, source.title ?? ""])),
    table,
  );
  const scene = (values) => new (m["catalog.plan.scene"].Scene)(py.dict(Object.entries(values)));
  const ticks = (made) =>
    py.dict(Object.entries(made).map(([key, { state, at, said }]) => [key, new Ticked(state, at, said)]));
  const plain = plainly(py);
  return {
    code,
    known: record !== null,
    withdrawn: about.withdrawn ? { title: about.title, reason: about.withdrawn } : null,
    view: (of) => plain(m[`${PHONE}.record`].record_view(record, meta(), scene(of.scene), ticks(of.ticks))),
    drawn: (of, posture) => {
      const as = scene(of.scene);
      const plan = m["catalog.plan.steps"].plan_for(record, as, table ?? undefined);
      const made = m["catalog.draw.strip"].strip(m[`${PHONE}.drawn`].drawn_of(record, plan, as), posture);
      return { svg: m["catalog.draw.svg"].svg(made, "strip"), ...plain({ twin: made.twin, legend: made.legend, out: made.out_of_reach }) };
    },
    swatch: (kind) => m["catalog.draw.svg"].swatch(kind, `swatch${kind}`),
    revision: about.seq ?? 0,
    closeUps: () =>
      record === null ? [] : m["catalog.draw.close_up"].close_ups(record).map((one) => ({
        svg: m["catalog.draw.sketch"].sketch_svg(one), title: one.title, twin: plain(one.twin) })),
    facts: () => plain(m[`${PHONE}.facts`].facts_of(record, meta())),
    alike: () => {
      const { alike_views: views, NONE_FOUND: none } = m["catalog.resolve.answering.alike"];
      const place = field.tables.meta.at("codes").indexOf(code);
      return place < 0 ? { none, others: [] } : { none, others: plain(views(place, field, "crew", 5)) };
    },
    slip: (of) => plain(m[`${PHONE}.slip`].slip_of(record, meta(), scene(of.scene), ticks(of.ticks), py.dict(Object.entries(of.typed)))),
    slipHead: () => plain(m[`${PHONE}.slip`].slip_head(meta())),
    slipFields: () => m[`${PHONE}.slip`].fields_of_slip().items(),
  };
}
