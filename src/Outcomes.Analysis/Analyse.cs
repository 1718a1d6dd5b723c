using System.Collections.Immutable;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// The front door: from the counts of a department to everything that its report draws. Pure, and the same on every machine.
/// </summary>
public static class Analyse
{
    /// <summary>The figures of a department.</summary>
    /// <param name="department">What was counted. One month of records is enough; what needs more says that it has too little.</param>
    public static Figures Department(DepartmentCounts department)
    {
        ArgumentNullException.ThrowIfNull(department);
        var (plan, book, data) = (department.Plan, department.Book, department.Data);
        var mixes = FittedMix.FitAll(department);
        var signals = new ChangeSignals(plan, book, mixes, department.LastComplete);
        var measures = MeasureAnalysis.All(department, signals);
        ImmutableArray<ChangeEvaluation> evaluations = [.. ChangeEvaluations.Evaluate(department, measures)];
        var rareEvents = RareEventSeries.Analyse(department, measures);
        measures = Verdicts.DecideAll(department, measures, evaluations, signals, rareEvents);
        var sections = AnalyseSection.All(department, measures);
        var ladder = department.Ladder;
        var completeness = FieldCompleteness.All(data);
        return new Figures
        {
            PipelineName = plan.Name,
            Titles = plan.Titles,
            Month = plan.Month,
            First = book.First,
            Last = book.Last,
            AsOf = plan.AsOf,
            Provisional = department.Provisional,
            Partial = plan.Month.LastDay > plan.AsOf,
            Audience = plan.Audience,
            Invented = plan.Invented,
            DefinitionsHash = plan.Definitions.Hash,
            Inputs = data.Inputs,
            Assumptions = Assumption.All(plan),
            Procedures = [.. book.First.To(book.Last).Select(each => department.Records.GetValueOrDefault(each))],
            Flows = department.Flow is { } flow ? [.. book.First.To(book.Last).Select(at => flow.GetValueOrDefault(at, Flow.Empty))] : [],
            Capture = department.Capture,
            Traces = department.Traces,
            Reconciliations = data.Reconciliations,
            Harm = HarmFigures.All(department),
            Measures = measures,
            Pace = plan.Pace,
            Changes = evaluations,
            FalseStatements = FalseStatements.Expect(plan, measures, evaluations),
            RareEvents = rareEvents,
            ControlCharts = ControlChartSeries.Analyse(department, measures),
            Sections = sections,
            Chosen = ChosenSection.Choose(sections, measures.Any(measure => measure.Verdict?.Capture is not null), plan.Month),
            Sites = SiteComparisons.Analyse(department),
            Answers = [.. department.Questions.Select(counted => AnswerQuestion.Analyse(counted, plan,
                mixes.FirstOrDefault(mix => mix.Measure.Id == counted.Asked.Measure.Id)))],
            Ladder = ladder is null || ladder.Records == 0 || ladder.Unknown == ladder.Records ? null : ladder,
            LadderShares = ladder is null || ladder.Plans.Sum(each => each.Started) == 0
                ? [] : Goodman.Intervals([.. ladder.Plans.Select(each => each.Started)]),
            CaseMix = ExpectedEvents.Compare(department, mixes),
            Findings = data.Findings,
            Completeness = completeness,
            Questions = data.Questions,
            MeasureCompleteness = MeasureCompleteness.All(measures, completeness, data.FieldsBehind),
            Actions = ActionState.Of(plan.Actions, plan.AsOf, plan.Month) with { Followed = ActionFollowUp.Follow(department) },
            Learning = MeetingLearning.Last(plan.Learning, plan.Month, plan.AsOf),
            Review = department.Review,
            RulesNotRun = RuleNotRun.All(data),
        };
    }
}
