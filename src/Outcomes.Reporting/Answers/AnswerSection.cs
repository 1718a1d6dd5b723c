using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Reporting.Drawings;
using Outcomes.Reporting.Page;

namespace Outcomes.Reporting.Answers;

/// <summary>An answer on a page: on screen, in a snapshot, and in the appendix of a report.</summary>
internal static class AnswerSection
{
    private static readonly TableColumn[] Proportion =
        ["Cohort", TableColumn.Num("Met / eligible"), "Estimate (95 % interval)", TableColumn.Num("Missing"), "If missing records counted"];

    /// <param name="html">The page.</param>
    /// <param name="view">The answer.</param>
    /// <param name="charts">Its drawings.</param>
    /// <param name="id">Unique in the page.</param>
    public static void Write(Html html, AnswerView view, ImmutableArray<Chart> charts, string id)
    {
        var answer = view.Answer;
        html.Add($"""<section class="answer" aria-labelledby="{id}"><h2 id="{id}">{AnswerWording.Title(answer.Asked)}</h2>""");
        if (answer.Asked.Definition.Title.Length > 0)
            html.Add($"<p>{answer.Asked.Measure.Title}.</p>");
        if (view.Reported?.Verdict is { Reason: not VerdictReason.NotAsked } verdict)
            html.Add($"""<p class="words">{VerdictWording.Caption(verdict, view.Titles)}</p>""");
        if (answer.Asked.Measure.Kind == MeasureKind.Proportion)
            Proportions(html, view, id);
        else
            Quantities(html, view, id);
        if (answer.Comparison is { } comparison)
            Compared(html, view, comparison);
        foreach (var cohort in view.Cohorts.Where(cohort => cohort.CaseMix is not null))
            html.Add($"<p>{(view.Cohorts.Length == 1 ? "" : Name(view, cohort) + ": ")}"
                + $"{AnswerWording.CaseMix(cohort.CaseMix!, cohort.Figures.Measure.Direction == Direction.Up)}</p>");
        if (view.LacksReport)
            html.Add($"<p>{AnswerWording.LacksReport}</p>");
        if (answer.Needed is { } needed)
            html.Add($"<p>{AnswerWording.Needed(needed, answer.Asked.Measure.Per)}</p>");
        foreach (var chart in charts)
        {
            html.Add($"<h3>{chart.Title}</h3>");
            MeasuresSection.Figure(html, chart, chart.Title);
        }

        Levels(html, view, id);
        AnswerSources.Write(html, view, id);
        html.Add($"</section>\n");
    }

    private static string Name(AnswerView view, CohortFigures cohort) => view.Cohorts.Length == 1 ? ""
        : cohort == view.Answer.First ? "First" : "Second";

    private static void Proportions(Html html, AnswerView view, string id)
    {
        Table.Write(html, $"t-{id}", "Figures", Proportion, () =>
        {
            foreach (var cohort in view.Cohorts)
            {
                var (figures, measure) = (cohort.Figures, cohort.Figures.Measure);
                html.Add($"""<tr><th scope="row">""");
                if (Name(view, cohort) is { Length: > 0 } name)
                    html.Add($"""<span class="sub">{name}</span>""");
                html.Add($"{AnswerWording.Cohort(cohort.Cohort, view.Titles)}</th>");
                if (cohort.IsTooFew || figures.NotCollected is not null)
                {
                    html.Add($"""<td colspan="4">{(cohort.IsTooFew ? AnswerWording.TooFew : WhyNot(figures, view))}</td></tr>""");
                    continue;
                }

                html.Add($"""<td class="n">{SummarySection.Fraction(figures.Year)}</td><td>""");
                SummarySection.Estimate(html, figures);
                html.Add(
                    $"""</td><td class="n">{Wording.Number(figures.Year.Missing)}</td><td>{SummarySection.Missing(figures)}</td></tr>""");
            }
        });
        if (view.Cohorts.Any(cohort => cohort.Figures.MonthsVary))
            html.Add($"<p>{Wording.StarExplained}</p>");
    }

    private static string WhyNot(MeasureFigures figures, AnswerView view) =>
        figures.NotCollected is { Lacking.IsEmpty: false } why ? DataWording.WhyNot(why, view.Titles) : "No record in these months.";

    private static void Quantities(Html html, AnswerView view, string id)
    {
        var measure = view.Answer.Asked.Measure;
        TableColumn[] columns = [$"{measure.Title}{(measure.Unit is { } unit ? $", {unit}" : "")}", .. QuantityCells.Columns];
        Table.Write(html, $"t-{id}", "Figures", columns, () =>
        {
            foreach (var cohort in view.Cohorts)
            {
                var figures = cohort.Figures;
                var who =
                    $"{(Name(view, cohort) is { Length: > 0 } name ? name + ": " : "")}{AnswerWording.Cohort(cohort.Cohort, view.Titles)}";
                if (cohort.IsTooFew)
                    Table.Row(html, columns, who, AnswerWording.TooFew, "", "");
                else
                    Table.Row(html, columns, [who, .. QuantityCells.Of(figures.YearQuantity, figures.YearQuantity?.N ?? 0,
                        figures.YearWithoutValue, figures.YearUnrecordable)]);
            }
        });
        if (view.Cohorts.Length > 1)
            html.Add($"<p>Medians whose intervals overlap may still differ.</p>");
    }

    private static void Compared(Html html, AnswerView view, CohortComparison comparison)
    {
        html.Add($"""<p class="words"><strong>{AnswerWording.Difference(comparison)}</strong></p>""");
        if (comparison.OddsRatio is { } ratio)
            html.Add($"<p>Odds ratio, first over second: {Wording.Ratio(ratio.Value, ratio.Lower, ratio.Upper)}. ");
        foreach (var within in comparison.Within)
            html.Add($"Within {Wording.Some(within.Levels, "level")} of "
                + $"{Readable.WithinSentence(view.Titles.Column(within.Field))}: "
                + $"{Wording.Ratio(within.OddsRatio.Value, within.OddsRatio.Lower, within.OddsRatio.Upper)}; "
                + $"{(within.Homogeneity is { } test ? Wording.P(test.PValue) : "too few for a test")} that the levels share one ratio. ");
        if (comparison.OddsRatio is not null)
            html.Add($"</p>");
        if (!comparison.Within.IsEmpty)
            html.Add($"<p>{StrataWording.WithinExplained}</p>");
        html.Add($"<p>{StrataWording.CannotTell}</p>");
    }

    private static void Levels(Html html, AnswerView view, string id)
    {
        var asked = view.Answer.Asked.Definition.By;
        if (asked.IsEmpty)
            return;
        foreach (var (at, cohort) in view.Cohorts.Index())
        {
            var which = view.Cohorts.Length == 1 ? "By" : $"{Name(view, cohort)} cohort, by";
            if (!cohort.ShowsLevels)
            {
                html.Add($"<p>{(cohort.IsTooFew ? AnswerWording.TooFew : AnswerWording.NoLevels)}</p>");
                continue;
            }

            foreach (var (split, stratum) in cohort.Figures.Strata.Index())
                StratumTable.Write(html, $"l-{id}-{at}-{split}",
                    $"{which} {Readable.WithinSentence(view.Titles.Column(stratum.Field))}", view.Titles,
                    [(cohort.Figures.Measure, stratum)]);
            if (!cohort.Quantities.IsEmpty)
                QuantityTable.Write(html, $"q-{id}-{at}", $"{which} level", cohort.Quantities, view.Titles);
            if (!cohort.NotCollected.IsEmpty)
                html.Add($"<p>Not collected: {string.Join("; ", cohort.NotCollected.Select(view.Titles.Column))}.</p>");
        }
    }
}
