using System.Globalization;
using System.Text;
using Outcomes.Tests.EndToEnd.Tool;

namespace Outcomes.Tests.EndToEnd;

/// <summary>
/// A published trial as record rows. Prekker ME et al. N Engl J Med 2023;389:418-429, abstract: video against direct laryngoscopy in
/// 1,417 critically ill adults; success at the first attempt 600/705 and 504/712; severe complication 151/705 and 149/712.
/// The rows are rebuilt from these printed counts alone: which patient had which outcome, and every date, is invented.
/// </summary>
internal static class PublishedTrial
{
    public const string Pipeline = """
        name: trial
        as_of: 2024-01-01
        sources:
          procedures: {file: rows.csv, mapping: mapping.yaml}
        fields: fields.json
        measures: [shipped, severe_complication.yaml]
        strata: [device]
        baseline: {from: 2023-01, months: 12}

        """;

    public const string Mapping = """
        columns:
          record_id: {column: id}
          event_date: {column: day, date: yyyy-MM-dd}
          severe_complication: {column: severe}
        constants: {urgency: emergency, age_band: adult}
        attempts: {wide: "attempt{n}_*"}

        """;

    public const string SevereComplication = """
        id: severe_complication
        title: Severe complication
        kind: proportion
        eligible: emergency
        met: severe_complication
        direction: down
        why: The composite of the trial, recorded as one answer.
        source: Prekker ME et al. N Engl J Med 2023;389:418-429
        examples:
          - {given: {urgency: emergency, age_band: adult, severe_complication: yes}, expect: met}

        """;

    public const string Fields = """
        {
          "missingValues": [""],
          "fields": [
            {
              "name": "severe_complication", "title": "Severe complication", "type": "boolean",
              "trueValues": ["yes"], "falseValues": ["no"],
              "description": "Severe complication between induction and two minutes after intubation.", "outcomes:identifying": "none"
            }
          ]
        }

        """;

    public static Workspace Create()
    {
        var workspace = new Workspace();
        workspace.Write("pipeline.yaml", Pipeline);
        workspace.Write("mapping.yaml", Mapping);
        workspace.Write("severe_complication.yaml", SevereComplication);
        workspace.Write("fields.json", Fields);
        workspace.Write("rows.csv", Rows());
        return workspace;
    }

    public static string Rows()
    {
        var rows = new StringBuilder("id,day,attempt1_technique,attempt1_device,attempt1_outcome,severe\n");
        Arm(rows, "video", patients: 705, successes: 600, severe: 151);
        Arm(rows, "direct", patients: 712, successes: 504, severe: 149);
        return rows.ToString();
    }

    private static void Arm(StringBuilder rows, string device, int patients, int successes, int severe)
    {
        for (var i = 0; i < patients; i++)
        {
            var day = new DateOnly(2023, 1, 1).AddDays(i % 365);
            var outcome = i < successes ? "success" : "cannot_pass_tube";
            // Counted from the other end, so that the two outcomes do not simply coincide.
            var complication = i >= patients - severe ? "yes" : "no";
            rows.Append(CultureInfo.InvariantCulture, $"{device}-{i + 1:D3},{day:yyyy-MM-dd},{device},{device},{outcome},{complication}\n");
        }
    }
}
