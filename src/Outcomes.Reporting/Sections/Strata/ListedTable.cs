using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;

namespace Outcomes.Reporting.Page;

/// <summary>The measures of a section without strata, one by one over the last 12 months.</summary>
internal static class ListedTable
{
    private static readonly TableColumn[] Columns =
        ["Measure", TableColumn.Num("n/N"), "Estimate (95 % interval)", "Known answers only", TableColumn.Num("Missing")];

    public static void Write(Html html, SectionFigures section, Titles titles)
    {
        ImmutableArray<MeasureFigures> rows = [.. section.Listed.Where(measure => !measure.Year.IsEmpty)];
        if (rows.IsEmpty)
            return;
        Table.Write(html, $"t-{section.Id}", section.Definition.Title, Columns, () =>
        {
            foreach (var measure in rows)
                Table.Row(html, Columns, measure.Measure.Title, SummarySection.Fraction(measure.Year),
                    Wording.Estimate(measure.YearEstimate, measure.Measure.Per), Known(measure), Wording.Number(measure.Year.Missing));
        });
        if (section.Listed.Except(rows).ToArray() is { Length: > 0 } others)
            html.Add($"<p>Without figures: {string.Join("; ", others.Select(measure => Why(measure, titles)))}.</p>");
        if (rows.Any(measure => measure.MonthsVary || VaryingMonths.IsWider(measure.KnownOnly?.Estimate)))
            html.Add($"<p>{Wording.StarExplained}</p>");
        if (rows.Any(measure => measure.KnownOnly is not null))
            html.Add($"<p>Process measures count an answer that is not recorded as not done; known answers stand beside them.</p>");
    }

    private static string Why(MeasureFigures measure, Titles titles) => $"{measure.Measure.Title} "
        + $"({(measure.NotCollected is { } why ? DataWording.WhyNot(why, titles) : "no record in this period")})";

    private static string Known(MeasureFigures measure) => measure.KnownOnly is not var (count, estimate) ? ""
        : estimate is null ? Wording.Fraction(count)
        : $"{Wording.Fraction(count)}, {Wording.Estimate(estimate, measure.Measure.Per)}";
}
