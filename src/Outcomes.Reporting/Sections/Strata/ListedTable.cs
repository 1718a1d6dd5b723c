using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;

namespace Outcomes.Reporting.Page;

/// <summary>The measures of a section without strata, one by one: the report month and the last 12.</summary>
internal static class ListedTable
{
    private static readonly TableColumn[] Columns =
        ["Measure", TableColumn.Num("This month"), TableColumn.Num("12 months"), "Estimate (95 % interval)", TableColumn.Num("Missing")];

    private static readonly TableColumn[] WithKnown = [.. Columns, "Known answers only"];

    public static void Write(Html html, SectionFigures section, Titles titles)
    {
        var rows = Proportions(section).Where(measure => !measure.Year.IsEmpty).ToArray();
        var known = rows.Any(measure => measure.KnownOnly is not null);
        var columns = known ? WithKnown : Columns;
        if (rows.Length > 0)
            Table.Write(html, $"t-{section.Id}", section.Definition.Title, columns, () =>
            {
                foreach (var measure in rows)
                    Table.Row(html, columns, [.. Cells(measure), .. known ? new[] { Known(measure) } : []]);
            });
        Quantities(html, section);
        if (section.Listed.Where(measure => !HasFigures(measure)).ToArray() is { Length: > 0 } others
            && others.Length < section.Listed.Length)
            html.Add($"<p>Without figures: {string.Join("; ", others.Select(measure => Why(measure, titles)))}.</p>");
        if (known)
            html.Add($"<p>In process measures an answer that is not recorded counts as not done; "
                + $"the last column shows known answers only.</p>");
    }

    private static IEnumerable<MeasureFigures> Proportions(SectionFigures section) =>
        section.Listed.Where(measure => measure.Measure.Kind == MeasureKind.Proportion);

    private static bool HasFigures(MeasureFigures measure) => !measure.Year.IsEmpty || measure.YearQuantity is not null;

    private static string[] Cells(MeasureFigures measure) =>
    [
        measure.Measure.Title, SummarySection.Fraction(measure.ThisMonth), SummarySection.Fraction(measure.Year),
        Wording.Estimate(measure.YearEstimate, measure.Measure.Per), Wording.Number(measure.Year.Missing),
    ];

    private static void Quantities(Html html, SectionFigures section)
    {
        ImmutableArray<MeasureFigures> rows = [.. section.Listed.Where(measure => measure.YearQuantity is not null)];
        if (rows.IsEmpty)
            return;
        TableColumn[] columns = ["Quantity, 12 months", .. QuantityCells.Columns];
        Table.Write(html, $"t-{section.Id}-quantities", $"{section.Definition.Title}: quantities", columns, () =>
        {
            foreach (var measure in rows)
                Table.Row(html, columns, [measure.Measure.Title, .. QuantityCells.Of(measure.YearQuantity, measure.YearQuantity!.N,
                    measure.YearWithoutValue, measure.YearUnrecordable)]);
        });
        if (rows.Any(measure => measure.MonthsVary || VaryingMonths.IsWider(measure.KnownOnly?.Estimate)))
            html.Add($"<p>{Wording.StarExplained}</p>");
    }

    private static string Why(MeasureFigures measure, Titles titles) => $"{measure.Measure.Title} "
        + $"({(measure.NotCollected is { } why ? DataWording.WhyNot(why, titles) : "no record in this period")})";

    private static string Known(MeasureFigures measure) => measure.KnownOnly is not var (count, estimate) ? ""
        : estimate is null ? Wording.Fraction(count)
        : $"{Wording.Fraction(count)}, {Wording.Estimate(estimate, measure.Measure.Per)}";
}
