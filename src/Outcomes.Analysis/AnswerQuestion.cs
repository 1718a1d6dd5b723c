using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>Answers a question as the report would, on the records that it asks of.</summary>
public static class AnswerQuestion
{
    private const double Power = 0.8;

    /// <summary>The answer.</summary>
    /// <param name="counted">What was counted.</param>
    /// <param name="plan">The report's plan.</param>
    /// <param name="mix">The case-mix model of the measure; null where none stands.</param>
    public static QuestionAnswer Analyse(QuestionCounts counted, AnalysisPlan plan, FittedMix? mix)
    {
        ArgumentNullException.ThrowIfNull(counted);
        ArgumentNullException.ThrowIfNull(plan);
        var asked = counted.Asked;
        var first = Figures(asked, asked.First, counted.First, plan, mix);
        var second = counted.Second is null ? null : Figures(asked, asked.Second!, counted.Second, plan, mix);
        return new(asked, first)
        {
            Second = second,
            Comparison = second is null || asked.Measure.Kind != MeasureKind.Proportion ? null
                : CompareCohorts.Compare(first, second, counted.Shared),
            Needed = Needed(asked, first),
        };
    }

    private static CohortFigures Figures(AskedQuestion asked, Cohort cohort, CohortCounts counted, AnalysisPlan plan, FittedMix? mix)
    {
        var counts = counted.Counts;
        var (measure, from, to) = (counts.Plan.Definitions.Measures[0], cohort.From, cohort.To);
        var figures = MeasureAnalysis.All(counts, new ChangeSignals(counts.Plan, counts.Book, [], counts.LastComplete))[0];
        var values = counts.Values.Rows.Where(row => row.Month >= from && row.Month <= to).ToArray();
        return new(cohort, counts, figures)
        {
            NotCollected = counted.NotCollected,
            Quantities = [.. asked.Definition.By.Where(field => values.Any(row => row.Stratum == field))
                .Select(field => AnalyseSection.Quantity(measure, field, values.Where(row => row.Stratum == field), plan.Titles))],
            Distribution = [.. values.Where(row => row is { Stratum: CountRow.All, Value: not null }).GroupBy(row => row.Value!.Value)
                .OrderBy(group => group.Key).Select(group => (group.Key / (double)measure.Scale, group.Sum(row => row.N)))],
            CaseMix = mix is null || plan.CaseMix is not { } model || counted.CaseMix is not { } design ? null
                : mix.Expect(design, model, from, to),
        };
    }

    private static RecordsNeeded? Needed(AskedQuestion asked, CohortFigures first)
    {
        if (asked.Definition.Points is not { } points || first.Figures.YearEstimate is not { } estimate || first.IsTooFew)
            return null;
        var from = estimate.Value;
        var to = from + (asked.Measure.Direction == Direction.Down ? -points / 100 : points / 100);
        if (to is <= 0 or >= 1)
            to = from - (to - from);
        if (from is <= 0 or >= 1 || to is <= 0 or >= 1)
            return null;
        var needed = (long)Math.Ceiling(TwoProportionPower.PerGroup(from, to, Power));
        var months = first.Cohort.To.MonthsSince(first.Cohort.From) + 1;
        return new(from, to, needed, needed * (double)months / first.Figures.Year.Eligible);
    }
}
