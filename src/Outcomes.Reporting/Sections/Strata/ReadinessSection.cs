using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>
/// Whether a senior, a vasopressor and a front-of-neck set were ready where a difficult airway was foreseen or the patient was shocked.
/// </summary>
internal static class ReadinessSection
{
    private static readonly TableColumn[] Columns =
        [
            "Ready", "Group", TableColumn.Num("n/N"), TableColumn.Num("Estimate"), TableColumn.Num("95 % interval"),
            TableColumn.Num("Not recorded"), "Of those that say"
        ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (!IsThere(model))
            return;
        var section = model.Section("readiness")!;
        html.Add($"""<section aria-labelledby="readiness"><h2 id="readiness">Prepared for trouble</h2>""");
        html.Add($"<p>{Wording.Span(section.From, section.To)}, emergency records without arrest before induction. Difficult airway "
            + $"foreseen: MACOCHA 3 or more, or difficulty expected or anticipated. Shocked at induction: systolic pressure below "
            + $"100{Wording.Space}mmHg, or heart rate over systolic pressure 0.9 or more where it is recorded. A record can be both; "
            + $"neither means that both questions are answered no. A vasopressor counts when it was running, given or drawn up.</p>");
        html.Add($"<p>This is preparation, not outcome: it says what was ready, nothing about what came of it or what was needed. What is "
            + $"not recorded counts as not done and stands beside the reading of those that say. Local policy says what is due.</p>");
        MeasuresSection.Figure(html, charts, section.Id);
        Table.Write(html, "t-readiness", "What was ready, by what was foreseen", Columns, () =>
        {
            foreach (var measure in section.Measures)
                Rows(html, measure);
        }, "strata");
        if (section.Measures.Any(measure => measure.Strata.Any(stratum => stratum.Field == "at_risk_before")))
            DifferenceTable.Write(html, "t-readiness-difference", "Difficult airway foreseen or shocked, against neither", section,
                "at_risk_before", "Foreseen or shocked", "Neither", "where trouble was foreseen");
        DesaturationSection.Lacking(html, section);
        html.Add($"</section>\n");
    }

    public static bool IsThere(Figures model) =>
        model.Section("readiness") is { } section && section.Measures.Any(measure => !measure.Strata.IsEmpty);

    private static void Rows(Html html, StratifiedMeasure measure)
    {
        (string Name, LevelFigures? Level)[] rows =
        [
            .. SectionPlot.Readiness.Where(group => measure.Strata.Any(stratum => stratum.Field == group.Field))
                .Select(group => (Group: group, Level: SectionPlot.Group(measure, group)))
                // A group that no record is in, and one too small to be told: the second alone is worth a row.
                .Where(row => row.Level is not null || Merged(measure, row.Group)).Select(row => (row.Group.Name, row.Level)),
            ("all of them", new LevelFigures("all of them", measure.All, measure.Estimate) { Known = measure.Known }),
        ];
        foreach (var (i, (name, level)) in rows.Index())
        {
            html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
            if (i == 0)
                html.Add($"""<th scope="rowgroup" rowspan="{Wording.Number(rows.Length)}">{measure.Measure.Title}</th>""");
            var (estimate, per) = (level?.Estimate, measure.Measure.Per);
            html.Add(
                $"""<td>{name}</td><td class="n">{(level is null ? $"fewer than {Wording.Number(StratumFigures.LeastRecords)}" : SummarySection.Fraction(level.Count))}</td><td class="n">{(estimate is null ? "" : Wording.Rate(estimate.Value, per))}</td><td class="n">{(estimate is null ? "" : Wording.Range(estimate.Lower, estimate.Upper, per))}</td><td class="n">{(level is null ? "" : Wording.Number(NotSaid(level)))}</td><td>{(level?.Known is { Eligible: > 0 } known ? StrataWording.Cell(known, level.KnownEstimate, per) : "")}</td></tr>{"\n"}""");
        }
    }

    private static long NotSaid(LevelFigures level) =>
        level.Known is { } known ? level.Count.Eligible - known.Eligible + level.Count.Missing : level.Count.Missing;

    private static bool Merged(StratifiedMeasure measure, SectionGroup group) =>
        measure.Strata.First(stratum => stratum.Field == group.Field).Levels.Any(level => level.Level == StratumFigures.Other);
}
