using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Reporting.Page;

/// <summary>Every measure on a line: this month, the last 12 months with interval and bounds, and what the run chart says.</summary>
internal static class SummarySection
{
    private static readonly TableColumn[] Columns =
    [
        "Measure", TableColumn.Num("This month"), TableColumn.Num("12 months"), "Estimate (95 % interval)",
        "If missing records counted", "Verdict",
    ];

    public static void Write(Html html, Figures model)
    {
        html.Add($"""<section aria-labelledby="summary"><h2 id="summary">Summary</h2>""");
        html.Add($"<p>Each figure is met out of eligible records. The last 12 months are {Wording.Span(model.YearFrom, model.Month)}. "
            + $"Only headline measures are tested for change, every month and under one false-alarm budget. A star marks an "
            + $"interval that is wider because the months vary more than chance alone; "
            + $"the plain one is in <code>tables/year.csv</code>, that of a section's level in <code>tables/strata.csv</code>.</p>");
        if (model.YearFlow is { Recorded: > 0 } flow)
            html.Add($"<p>{FlowWording.Line(flow)} A measure may ask fewer of them; <a href=\"#measures\">measure by measure</a> "
                + $"says how many.</p>");
        var collected = model.Measures.Where(measure => measure.NotCollected is null).ToList();
        Rows(html, model, "t-headline", "Headline measures",
            collected.Where(measure => measure.Headline && measure.Measure.Kind == MeasureKind.Proportion));
        foreach (var group in MeasureGroups.Of(
            collected.Where(measure => !measure.Headline && measure.Measure.Kind == MeasureKind.Proportion)))
            Rows(html, model, $"t-{group.Key.ToString().ToLowerInvariant()}", MeasureGroups.Title(group.Key), group);
        Quantities(html,
            [.. MeasureGroups.Of(collected.Where(measure => measure.Measure.Kind == MeasureKind.Quantity)).SelectMany(group => group)]);
        NotCollected(html, model);
        html.Add($"</section>\n");
    }

    private static void Rows(Html html, Figures model, string id, string caption, IEnumerable<MeasureFigures> measures)
    {
        var rows = measures.ToList();
        if (rows.Count == 0)
            return;
        // A column that says "not tested" in every row says nothing.
        var verdicts = rows.Any(measure => measure.Verdict is { Label: not VerdictLabel.NotTested });
        Table.Write(html, id, caption, verdicts ? Columns : [.. Columns.SkipLast(1)], () =>
        {
            foreach (var measure in rows)
                Row(html, model, measure, verdicts);
        }, "summary");
    }

    private static void Row(Html html, Figures model, MeasureFigures report, bool verdicts)
    {
        var (measure, per) = (report.Measure, report.Measure.Per);
        html.Add($"""<tr><th scope="row"><a href="#m-{Encode.Slug(measure.Id)}">{measure.Title}</a>""");
        if (Direction(measure.Direction) is { Length: > 0 } direction)
            html.Add($"""<span class="sub">{direction}</span>""");
        if (!report.RestsOn.IsEmpty)
        {
            html.Add($"""<span class="sub">assumes {CautionsSection.Assumptions(report.RestsOn, model.Titles)}</span>""");
        }

        html.Add($"""</th><td class="n">{Fraction(report.ThisMonth)}</td><td class="n">{Fraction(report.Year)}</td><td>""");
        Estimate(html, report);
        html.Add($"</td><td>{Missing(report)}</td>");
        if (verdicts)
        {
            html.Add($"<td>");
            Verdict(html, report);
            html.Add($"</td>");
        }

        html.Add($"</tr>\n");
    }

    /// <summary>The label of a measure's verdict, marked where it says that something changed; nothing where nothing is asked.</summary>
    public static void Verdict(Html html, MeasureFigures report)
    {
        if (report.Verdict is { SaysChange: true } changed)
            html.Add($"""<strong class="signal">◆ {VerdictWording.Label(changed)}</strong>""");
        else if (report.Verdict is { } verdict && (report.Headline || verdict.Label != VerdictLabel.NotTested))
            html.Add($"{VerdictWording.Label(verdict)}");
    }

    /// <summary>The estimate in words; a percentage never stands without its count beside it.</summary>
    public static void Estimate(Html html, MeasureFigures report)
    {
        var per = report.Measure.Per;
        if (report.YearEstimate is not { } estimate)
        {
            html.Add($"no eligible records");
            return;
        }

        html.Add($"""<span class="nb"><strong>{Wording.Rate(estimate.Value, per)}</strong></span> """
            + $"""<span class="nb">({Wording.Range(estimate.Lower, estimate.Upper, per)})</span>"""
            + $"{(report.MonthsVary ? "*" : "")}");
        if (report.ZeroBound is { } bound)
            html.Add($"""<span class="sub">none in {Wording.Number(report.Year.Eligible)}: at most {Wording.Rate(bound, per)} """
                + $"(one-sided exact 95{Wording.Space}% bound)</span>");
        if (report.KnownOnly is ({ } count, { } known))
            html.Add($""" <span class="sub">unknown counted as not done; known only: <span class="nb">{Wording.Fraction(count)}</span>, """
                + $"{Wording.Estimate(known, per)}</span>");
    }

    public static string Fraction(Count count) => count.Eligible == 0 ? "none eligible" : Wording.Fraction(count);

    public static string Direction(Direction direction) => direction switch
    {
        Measures.Catalogue.Direction.Up => "higher is better",
        Measures.Catalogue.Direction.Down => "lower is better",
        _ => "",
    };

    /// <summary>How far the missing records of the 12 months could move the figure.</summary>
    public static string Missing(MeasureFigures report)
    {
        var (missing, per) = (report.Year.Missing, report.Measure.Per);
        if (missing == 0 || report.YearBounds is not var (lower, upper))
            return "none missing";
        var range = $"between {Wording.Rate(lower, per)} and {Wording.Rate(upper, per)}";
        // Records with missing parts that are worse or better than the others: the estimate leaves them out, and can lie
        // beyond what is known.
        var beyond = report.YearEstimate is not { } estimate ? ""
            : estimate.Value < lower ? "; the estimate lies below" : estimate.Value > upper ? "; the estimate lies above"
            : "";
        return report.YearDecided > 0
            ? $"{range}, whatever the {Wording.Number(missing)} missing hold ({Wording.Number(report.YearDecided)} "
                + "decided by what is known)"
                + beyond
            : missing == 1 ? $"{range} if the one missing was not met or met"
            : $"{range} if all {Wording.Number(missing)} missing were not met or met";
    }

    private static void Quantities(Html html, List<MeasureFigures> measures)
    {
        if (measures.Count == 0)
            return;
        TableColumn[] columns =
        [
            "Quantity", TableColumn.Num("This month: median (n)"), TableColumn.Num("12 months: median (n)"),
            TableColumn.Num("95 % interval"), TableColumn.Num("Lower quartile (95 %)"), TableColumn.Num("Upper quartile (95 %)"),
            TableColumn.Num("Range"), TableColumn.Num("Missing"),
        ];
        Table.Write(html, "t-quantities", "Quantities", columns, () =>
        {
            foreach (var report in measures)
            {
                var year = report.YearQuantity is { } enough && enough.N >= StratumFigures.LeastRecords ? enough : null;
                Table.Row(html, columns, $"{report.Measure.Title}{(report.Measure.Unit is { } unit ? $", {unit}" : "")}",
                    Median(report.ThisMonthQuantity), Median(report.YearQuantity), QuantityCells.Interval(year, 1), Quartile(year, 0),
                    Quartile(year, 2), year is null ? "" : Wording.QuantityRange(year.Least, year.Greatest, year.Decimals),
                    QuantityCells.Missing(report.YearWithoutValue, report.YearUnrecordable));
            }
        });
    }

    private static string Quartile(QuantitySummary? summary, int part) =>
        summary is null ? ""
        : $"{Wording.Quantity(summary.Estimates[part].Value, summary.Decimals)} ({QuantityCells.Interval(summary, part)})";

    private static string Median(QuantitySummary? summary) =>
        summary is null ? "no value"
        : summary.N < StratumFigures.LeastRecords ? $"too few ({Wording.Number(summary.N)})"
        : $"{Wording.Quantity(summary.Median, summary.Decimals)} ({Wording.Number(summary.N)})";

    private static void NotCollected(Html html, Figures model)
    {
        var absent = model.Measures.Where(measure => measure.NotCollected is not null).ToList();
        if (absent.Count == 0)
            return;
        TableColumn[] columns = ["Measure", "Why there is no figure"];
        Table.Write(html, "t-absent", "Not collected", columns, () =>
        {
            foreach (var measure in absent)
                Table.Row(html, columns, measure.Measure.Title,
                    measure.NotCollected is { } why ? DataWording.WhyNot(why, model.Titles) : "");
        });
    }
}
