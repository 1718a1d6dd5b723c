using System.Collections.Immutable;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Analysis;

/// <summary>
/// The decision table: from everything that was tested, one label and one sentence a measure. The first row that holds decides
/// (docs/statistics/verdict.md).
/// </summary>
public static class Verdicts
{
    /// <summary>Under this cross-validated area a model knows its patients only in part.</summary>
    public const double ModelPartialBelow = 0.6;

    private const int Reports = MonthlySignal.Reports;

    /// <summary>
    /// The measures with a verdict each. Rare events are compared where the measure is a headline measure or is told case by case.
    /// </summary>
    public static ImmutableArray<MeasureFigures> DecideAll(
        DepartmentCounts department, IEnumerable<MeasureFigures> measures, ImmutableArray<ChangeEvaluation> evaluations,
        ChangeSignals signals, ImmutableArray<RareEvents> rareEvents)
    {
        ArgumentNullException.ThrowIfNull(department);
        ArgumentNullException.ThrowIfNull(signals);
        var rare = department.Plan.WholeBaseline
            ? ImmutableDictionary<string, RareYear>.Empty : RareYears.Compare(department.Plan, department.Book, signals);
        var told = rareEvents.Select(events => events.Measure.Id).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. measures.Select(measure => measure.Series is null ? measure : WithVerdict(measure with
            {
                Rare = measure.Signal is { IsTooRare: true } || (measure.Signal is null && told.Contains(measure.Measure.Id))
                    ? rare.GetValueOrDefault(measure.Measure.Id) : null,
            })),
        ];

        MeasureFigures WithVerdict(MeasureFigures measure) =>
            measure with { Verdict = Decide(department, measure, evaluations, signals.Options) };
    }

    /// <summary>The verdict of a measure.</summary>
    /// <param name="department">What was counted.</param>
    /// <param name="report">The measure's figures.</param>
    /// <param name="evaluations">The planned evaluations of all measures.</param>
    /// <param name="options">Options of the monthly test.</param>
    public static Verdict Decide(
        DepartmentCounts department, MeasureFigures report, IEnumerable<ChangeEvaluation> evaluations, MonthlyTestOptions options)
    {
        ArgumentNullException.ThrowIfNull(department);
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(options);
        ChangeEvaluation[] own = [.. evaluations.Where(each => each.Measure.Id == report.Measure.Id).OrderBy(each => each.Due)];
        var fresh = own.LastOrDefault(each => each.Difference is not null && department.Month.MonthsSince(each.Due) < Reports);
        var waiting = own.FirstOrDefault(each => each.State == EvaluationState.Waiting);
        var found = new Evidence(report, VerdictSignal.Find(report.Signal, report.Measure), fresh, waiting,
            CaptureFall.Find(department.Capture, Before(department, report), (department.YearFrom, department.Month)));
        var verdict = Decide(found with { Fall = FallBehind(department, report, found) ?? found.Fall }, department.Month);
        return verdict with { Tipping = Tip(department, verdict, report, options) };
    }

    private sealed record Evidence(
        MeasureFigures Report, VerdictChange? Signal, ChangeEvaluation? Fresh, ChangeEvaluation? Waiting, CaptureFall? Fall)
    {
        public EvaluationEffect Effect => Fresh?.Effect ?? EvaluationEffect.None;

        public bool RecordingChanged => Fall is not null || Report.Signal?.Moved is not null;
    }

    private static Verdict Decide(Evidence found, Month month)
    {
        var (report, signal) = (found.Report, found.Report.Signal);
        var window = signal?.Window;
        var blank = new Verdict
        {
            Measure = report.Measure,
            Label = VerdictLabel.NotTested,
            Reason = VerdictReason.NotAsked,
            Year = report.Year,
            Now = Level(window?.Test?.Current, report.Measure),
            IsAdjusted = signal?.Mix == MixUse.Followed,
            PhaseFrom = signal?.PhaseFrom,
            Rare = report.Rare,
            Moved = signal?.Moved,
            Mix = signal is not null && signal.CountsAlone is { } alone && alone.Change?.ForTheWorse != signal.Change?.ForTheWorse
                ? MixShift.Of(report) : null,
            Capture = found.Fall,
            Auc = signal?.Auc,
            Noticed = signal?.Sights.Where(sight => sight.To < sight.From == (report.Measure.Direction == Direction.Up))
                .MinBy(sight => Math.Abs(sight.To - sight.From)),
        };
        return signal is { IsTooRare: false, State: ChangeState.TooFewToJudge }
            ? blank with
            {
                Label = VerdictLabel.TooFewToJudge,
                Reason = VerdictReason.ShortHistory,
                ShortHistory = window is null ? (0, default) : (window.Reading.HistoryMonths, window.Reading.History),
            }
            : Changed(found, blank) ?? Unchanged(found, blank, month);
    }

    // Rows 2 to 7: something changed.
    private static Verdict? Changed(Evidence found, Verdict blank)
    {
        var (signal, effect) = (found.Signal, found.Effect);
        if (signal is { ForTheWorse: true })
            return blank with
            {
                Label = VerdictLabel.Worse,
                Reason = effect == EvaluationEffect.Better ? VerdictReason.WorseDespiteEvaluation
                    : VerdictSignal.IsRelapse(found.Report.Signal!) ? VerdictReason.Relapse : VerdictReason.MonthlyTest,
                Change = signal,
                Evaluation = effect == EvaluationEffect.Better ? found.Fresh : null,
                Caution = OfSignal(blank),
            };
        if (effect == EvaluationEffect.Worse)
            return Evaluated(VerdictLabel.WorseAfterChange, Moved(blank));
        if (signal is not null && found.RecordingChanged)
            return blank with
            {
                Label = VerdictLabel.CheckRecording,
                Reason = VerdictReason.MonthlyTest,
                Change = signal,
                Caution = found.Fall is null ? VerdictCaution.FieldMoved : VerdictCaution.CaptureFell,
            };
        if (effect == EvaluationEffect.Better)
            return found.Fall is not null ? Evaluated(VerdictLabel.CheckRecording, VerdictCaution.CaptureFell)
                : Evaluated(VerdictLabel.BetterAfterChange,
                    blank.Mix is null ? Moved(blank) : VerdictCaution.CountsDiffer) with
                {
                    Reason = signal is null ? VerdictReason.Evaluation : VerdictReason.EvaluationAndTest,
                    Change = signal,
                };
        if (signal is not null)
            return blank with
            {
                Label = VerdictLabel.Better,
                Reason = found.Fresh is null ? VerdictReason.MonthlyTest : VerdictReason.BetterEvaluationOpen,
                Change = signal,
                Evaluation = found.Fresh,
                Caution = OfSignal(blank),
            };
        return effect == EvaluationEffect.Different ? Evaluated(VerdictLabel.DifferentAfterChange, Moved(blank)) : null;

        Verdict Evaluated(VerdictLabel label, VerdictCaution caution) => blank with
        {
            Label = label,
            Reason = VerdictReason.Evaluation,
            Evaluation = found.Fresh,
            Caution = caution,
        };
    }

    // Rows 8 to 10, and what is not tested.
    private static Verdict Unchanged(Evidence found, Verdict blank, Month month)
    {
        if (found.Fresh is not null)
            return blank with
            {
                Label = VerdictLabel.NotShown,
                Reason = VerdictReason.Evaluation,
                Evaluation = found.Fresh,
                Caution = Moved(blank),
            };
        var quiet = blank with { Caution = Moved(blank) is var moved and not VerdictCaution.None ? moved : Recording(blank) };
        if (blank.Rare is { } rare)
            return rare is { IsBeyondChance: true, Year: var (_, to) } && month.MonthsSince(to) < Reports
                ? quiet with { Label = Way(rare, blank.Measure), Reason = VerdictReason.YearlyComparison }
                : quiet with { Label = VerdictLabel.TooRare, Reason = VerdictReason.RareEvents };
        var isTested = found.Report.Signal is not null;
        if (found.Waiting is { } waiting)
            return quiet with
            {
                Label = isTested ? VerdictLabel.NoSignOfChange : VerdictLabel.NotTested,
                Reason = VerdictReason.WaitingEvaluation,
                Evaluation = waiting,
            };
        return isTested ? quiet with { Label = VerdictLabel.NoSignOfChange, Reason = VerdictReason.NoSignal } : blank;
    }

    private static VerdictCaution OfSignal(Verdict of) =>
        of.Mix is not null ? VerdictCaution.CountsDiffer
        : of.Moved is not null ? VerdictCaution.FieldMoved
        : of.Auc < ModelPartialBelow ? VerdictCaution.ModelPartial
        : VerdictCaution.Exaggerates;

    private static VerdictCaution Moved(Verdict of) => of.Moved is null ? VerdictCaution.None : VerdictCaution.FieldMoved;

    private static VerdictCaution Recording(Verdict of) =>
        of.Capture is not null ? VerdictCaution.CaptureFell
        : of.Mix is not null ? VerdictCaution.CountsDiffer : VerdictCaution.None;

    private static VerdictLabel Way(RareYear rare, Measure measure)
    {
        var rose = rare.YearCount.Met * (double)rare.BeforeCount.Eligible > rare.BeforeCount.Met * (double)rare.YearCount.Eligible;
        return rose == (measure.Direction == Direction.Up) ? VerdictLabel.Better : VerdictLabel.Worse;
    }

    private static Spread? Level(LevelEstimate? level, Measure measure) => level is null ? null
        : measure.Direction == Direction.Up
            ? new(1 - level.Median, new(1 - level.Likely95.Upper, 1 - level.Likely95.Lower))
            : new(level.Median, level.Likely95);

    // What an improvement rests on: the months that it compares.
    private static CaptureFall? FallBehind(DepartmentCounts department, MeasureFigures report, Evidence found) =>
        found.Signal is { ForTheWorse: false } signal && report.Signal?.Window is { } window
            ? CaptureFall.Find(department.Capture, (window.HistoryFrom, window.HistoryTo), (signal.From, department.Month))
        : found is { Effect: EvaluationEffect.Better, Fresh: { Before: { } before, After: { } after } }
            ? CaptureFall.Find(department.Capture, before, after)
        : null;

    private static (Month From, Month To) Before(DepartmentCounts department, MeasureFigures report) =>
        report.Signal?.Window is { } window ? (window.HistoryFrom, window.HistoryTo)
            : (department.YearFrom.AddMonths(-12), department.YearFrom.AddMonths(-1));

    private static TippingPoint? Tip(DepartmentCounts department, Verdict verdict, MeasureFigures report, MonthlyTestOptions options)
    {
        if (verdict is { Evaluation: { Before: { } before, After: { } after, Difference: { } difference } evaluation }
            && verdict.Label is VerdictLabel.BetterAfterChange or VerdictLabel.WorseAfterChange)
            return TippingPoints.Find(Events(before), Events(after),
                [.. after.From.To(after.To).Select(month => department.Book.Sum(report.Series, month, month))],
                evaluation.Effect == EvaluationEffect.Worse, difference.Level);
        return verdict is { Change: { } change, IsAdjusted: false } && verdict.Label is VerdictLabel.Better or VerdictLabel.Worse
            && report is { Signal.Window: { Test: { } test } window, Series: { } series }
            && window.HistoryFrom.MonthsSince(department.Book.First) is var first
            ? TippingPoints.Find(report.Measure, series.Counts[first..(first + test.HistoryMonths + test.Reports.Length)], change,
                window.HistoryFrom, test.HistoryMonths, options)
            : null;

        EventCount[] Events((Month From, Month To) span) =>
            [.. span.From.To(span.To).Select(month => EventCount.From(
                department.Book.Sum(report.Series, month, month), report.Measure.Direction != Direction.Up))];
    }
}
