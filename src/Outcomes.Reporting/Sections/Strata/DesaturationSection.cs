using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Reporting.Drawings;

namespace Outcomes.Reporting.Page;

/// <summary>Who fell below 90 %: by the state before, by preoxygenation and by attempts, with the time spent there.</summary>
internal static class DesaturationSection
{
    private static readonly TableColumn[] Columns =
    [
        "By", "Level", TableColumn.Num("n/N"), TableColumn.Num("Estimate"), TableColumn.Num("95 % interval"), TableColumn.Num("Missing"),
        TableColumn.Num("Seconds below 90 %: median (quartiles)"), TableColumn.Num("With a value / without"),
    ];

    public static void Write(Html html, Figures model, ImmutableArray<Chart> charts)
    {
        if (model.Section("desaturation") is not { Measures: [var first, ..] } section)
            return;
        html.Add($"""<section aria-labelledby="desaturation"><h2 id="desaturation">Desaturation</h2>""");
        html.Add($"<p>{Wording.Span(section.From, section.To)}, {Wording.Some(section.To.MonthsSince(section.From) + 1, "month")}, "
            + $"since levels are "
            + $"small. {first.Measure.Title}: {StrataWording.Cell(first.All, first.Estimate, first.Measure.Per)}, {Wording.Number(first.All.Missing)} "
            + $"missing. Who began below 90{Wording.Space}% is not asked whether they fell below it; a fall of 10 points is asked of all. "
            + $"Levels with fewer than {Wording.Number(StratumFigures.LeastRecords)} records are merged; "
            + $"records that do not say are a level of their own.</p>");
        if (charts.FirstOrDefault(chart => chart.Id == section.Id) is { } drawn)
            MeasuresSection.Figure(html, drawn, drawn.Title);
        Table.Write(html, "t-desaturation", $"{first.Measure.Title}, and the time below 90 %", Columns, () =>
        {
            foreach (var stratum in first.Strata)
                Rows(html, first, stratum, section.Quantities.FirstOrDefault(quantity => quantity.Field == stratum.Field));
        }, "strata");
        if (first.Strata.FirstOrDefault() is { } state && section.Measures.Length > 1)
            StrataSection.Rows(html, "t-desaturation-more", $"Deeper falls, by saturation at induction",
                section.Measures.Skip(1).SelectMany(measure => measure.Strata.Where(stratum => stratum.Field == state.Field)
                    .Select(stratum => (measure.Measure, stratum))));
        foreach (var difference in section.Differences)
            html.Add($"<p>{Enough(difference)}</p>");
        foreach (var trend in section.Trends)
            html.Add($"<p>{StrataWording.Said(trend)}</p>");
        html.Add($"<p>{StrataWording.CannotTell}</p>");
        Lacking(html, section);
        html.Add($"</section>\n");
    }

    /// <summary>Fields that nothing could be split by.</summary>
    public static void Lacking(Html html, StratifiedSection section)
    {
        if (!section.NotCollected.IsEmpty)
            html.Add($"<p>Not collected: {string.Join("; ", section.NotCollected)}.</p>");
    }

    private static string Enough(LevelDifference difference) =>
        "Preoxygenated for three minutes or to an end-tidal oxygen "
        + $"above 85{Wording.Space}%, {Wording.Fraction(difference.Difference.First)}, "
        + $"against not, {Wording.Fraction(difference.Difference.Second)}: {ChangeWording.Difference(difference.Difference)}. "
        + $"{StrataWording.Said(difference, "with it")}"
        + $"{(difference.Within.IsEmpty ? "" : $" Odds ratio within levels of {StrataWording.Within(difference)}. {StrataWording.WithinExplained}")}";

    private static void Rows(Html html, StratifiedMeasure measure, StratumFigures stratum, StratifiedQuantity? time)
    {
        var per = measure.Measure.Per;
        // A level can have times without being asked the measure, or the other way round.
        var levels = stratum.Levels.Select(level => level.Level).Union(time?.Levels.Select(level => level.Level) ?? [])
            .OrderBy(level => level is StratumFigures.Other ? 2 : level is Measures.CountRow.MissingLevel ? 1 : 0)
            .ThenBy(level => time?.Levels.Select(each => each.Level).ToList().IndexOf(level) is int at and >= 0 ? at : int.MaxValue)
            .ToArray();
        foreach (var (i, name) in levels.Index())
        {
            var level = stratum.Levels.FirstOrDefault(each => each.Level == name);
            html.Add($"<tr{new Markup(i == 0 ? " class=\"first\"" : "")}>");
            if (i == 0)
                html.Add($"""<th scope="rowgroup" rowspan="{Wording.Number(levels.Length)}">{stratum.Title}</th>""");
            html.Add(
                $"""<td>{(level is null ? Wording.Level(name) : Wording.Level(level))}</td><td class="n">{(level is null ? Absent(stratum.Levels.Any(each => each.Level == StratumFigures.Other)) : level.Count.Eligible == 0 ? "none eligible" : SummarySection.Fraction(level.Count))}</td><td class="n">{(level?.Estimate is { } value ? Wording.Rate(value.Value, per) : "")}</td><td class="n">{(level?.Estimate is { } estimate ? Wording.Range(estimate.Lower, estimate.Upper, per) : "")}</td><td class="n">{(level is null ? "" : Wording.Number(level.Count.Missing))}</td>""");
            var found = time?.Levels.FirstOrDefault(each => each.Level == name);
            html.Add(
                $"""<td class="n">{(found is null ? Absent(time is not null && time.Levels.Any(each => each.Level == StratumFigures.Other)) : Seconds(found))}</td><td class="n">{(found is null ? "" : $"{Wording.Number(found.N)} / {Wording.Number(found.Missing)}")}</td></tr>{"\n"}""");
        }
    }

    // A level may be too small for the one and not for the other.
    private static string Absent(bool merged) => merged ? "merged" : "not asked";

    private static string Seconds(LevelQuantity level) => level switch
    {
        { Summary: { } summary } => $"{Wording.Quantity(summary.Median)} "
            + $"({Wording.Quantity(summary.LowerQuartile)}{Wording.Space}to{Wording.Space}{Wording.Quantity(summary.UpperQuartile)})",
        { N: 0 } => "none known",
        _ => "too few",
    };
}
