using Outcomes.Measures;
using Outcomes.Records;

namespace Outcomes.Analysis;

/// <summary>Asks the engine what a researcher's question needs.</summary>
public static class CountQuestion
{
    /// <summary>Counts what a question asks.</summary>
    /// <param name="asked">The question.</param>
    /// <param name="plan">The report's plan.</param>
    /// <param name="engine">The records.</param>
    /// <param name="records">Accepted records by month.</param>
    /// <param name="withCaseMix">Whether the cohort's case mix is read too, where the plan adjusts the measure.</param>
    public static QuestionCounts Count(
        AskedQuestion asked, AnalysisPlan plan, Engine engine, IReadOnlyDictionary<Month, long> records, bool withCaseMix)
    {
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(engine);
        var mix = withCaseMix && plan.CaseMix?.Measures.Contains(asked.Measure.Id) is true ? plan.CaseMix : null;
        var all = CountCohorts.Count(asked, engine);
        return new(asked, Cohort(asked.First, CountCohorts.First),
            asked.Second is null ? null : Cohort(asked.Second, CountCohorts.Second), CountCohorts.Shared(asked, all));

        CohortCounts Cohort(Cohort cohort, string which) => new(
            CountCohorts.Of(all, which, asked, Plan(asked, cohort, plan), records),
            mix is null ? null : engine.Design(cohort.Of(asked.Measure), FittedMix.Asked(mix)),
            [.. asked.Definition.By.Where(field => !engine.CanGive(field))]);
    }

    // Only what is asked: no headline measure, no section and no flag, so that nothing is tested that nobody planned.
    private static AnalysisPlan Plan(AskedQuestion asked, Cohort cohort, AnalysisPlan plan) => plan with
    {
        Definitions = plan.Definitions with { Measures = [cohort.Of(asked.Measure)], Sections = [], Flags = [], Questions = [] },
        Month = cohort.To,
        Months = cohort.To.MonthsSince(cohort.From) + 1,
        Strata = asked.Definition.By,
        Headline = [],
        CaseMix = null,
    };
}
