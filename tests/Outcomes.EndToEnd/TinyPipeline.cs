using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>The smallest pipeline with everything of its own: six invented rows, one measure.</summary>
internal static class TinyPipeline
{
    public const string Pipeline = """
        name: tiny
        as_of: 2026-02-01
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        fields: fields.json
        measures: [measure.yaml]
        strata: [location_type]
        baseline: {from: 2026-01, months: 12}
        tolerance: 0.2

        """;

    public const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          location_type: {column: place}
          attempts_total: {column: attempts}
          tube_first_time: {column: first}

        """;

    public const string Measure = """
        id: measure
        title: Tube at the first attempt
        kind: proportion
        eligible: attempts_total >= 1
        met: tube_first_time
        direction: up
        why: Every further attempt carries more risk.
        source: Invented for this test.
        examples:
          - {given: {attempts_total: 1, tube_first_time: yes}, expect: met}

        """;

    public const string Fields = """
        {
          "missingValues": [""],
          "fields": [
            {
              "name": "tube_first_time", "title": "Tube at the first attempt", "type": "boolean",
              "trueValues": ["yes"], "falseValues": ["no"],
              "description": "Was the tube placed at the first attempt?", "outcomes:identifying": "none"
            }
          ]
        }

        """;

    public const string Rows = """
        id,day,place,attempts,first
        r1,2026-01-02,icu,1,yes
        r2,2026-01-05,icu,2,no
        r3,2026-01-09,ed,1,yes
        r4,2026-01-12,ed,1,yes
        r5,2026-01-20,ward,1,
        r6,2026-01-28,icu,3,no

        """;

    public static Workspace Create()
    {
        var workspace = new Workspace();
        workspace.Write("pipeline.yaml", Pipeline);
        workspace.Write("mapping.yaml", Mapping);
        workspace.Write("measure.yaml", Measure);
        workspace.Write("fields.json", Fields);
        workspace.Write("rows.csv", Rows);
        return workspace;
    }
}
