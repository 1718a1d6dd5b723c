using System.Globalization;
using Outcomes.Analysis;
using Outcomes.Measures;
using Outcomes.Measures.Catalogue;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>
/// The label, sentence and caution of a verdict. Pages, charts and tables print these, and no other sentence says that a measure changed.
/// </summary>
public static class VerdictWording
{
    /// <summary>A few words: the label.</summary>
    public static string Label(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.Label switch
        {
            VerdictLabel.NotTested => "Not tested",
            VerdictLabel.TooFewToJudge => "Too few to judge",
            VerdictLabel.TooRare => "Too rare to test monthly",
            VerdictLabel.Worse => "Worse",
            VerdictLabel.WorseAfterChange => "Worse after the change",
            VerdictLabel.CheckRecording => "Better? Check recording",
            VerdictLabel.BetterAfterChange => "Better after the change",
            VerdictLabel.Better => "Better",
            VerdictLabel.DifferentAfterChange => "Different after the change",
            VerdictLabel.NotShown => "Not shown",
            _ => "No sign of change",
        };
    }

    /// <summary>The sentence; empty for a measure that nothing is asked of.</summary>
    public static string Sentence(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.Reason switch
        {
            VerdictReason.NotAsked => "",
            VerdictReason.ShortHistory => TooFew(verdict),
            VerdictReason.RareEvents => Rare(verdict),
            VerdictReason.YearlyComparison => Yearly(verdict),
            VerdictReason.WaitingEvaluation => Waiting(verdict),
            VerdictReason.NoSignal => $"No sign of change: {Now(verdict)}. {Noticed(verdict)}".TrimEnd(),
            VerdictReason.Evaluation when verdict.Label == VerdictLabel.CheckRecording =>
                $"{ChangeWording.Sides(verdict.Evaluation!)}, but fewer procedures were recorded. Settle that first; nothing is shown.",
            VerdictReason.Evaluation => ChangeWording.Say(verdict.Evaluation!),
            VerdictReason.EvaluationAndTest => $"{ChangeWording.Moved(verdict.Evaluation!)}; the monthly test agrees.",
            _ => verdict.Label == VerdictLabel.CheckRecording ? Recording(verdict) : Changed(verdict),
        };
    }

    /// <summary>The caution with its numbers; empty without one.</summary>
    public static string Caution(Verdict verdict, Titles titles)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        ArgumentNullException.ThrowIfNull(titles);
        return verdict switch
        {
            { Caution: VerdictCaution.CountsDiffer, Mix: { } mix } => $"The unadjusted counts would say otherwise: "
                + $"{Wording.Fraction(mix.Count)}, where {Wording.Quantity(mix.Given)} would be usual for these patients.",
            { Caution: VerdictCaution.FieldMoved, Moved: { } moved } => $"{titles.Column(moved.Field)} was missing in "
                + $"{InHundred(moved.Missing, moved.Of)} of 100, {InHundred(moved.MissingBefore, moved.OfBefore)} before: "
                + "case mix is no longer followed.",
            { Caution: VerdictCaution.CaptureFell, Capture: { } fall } => $"Only {InHundred(fall.Records, fall.Counted)} of 100 procedures "
                + $"were recorded, {InHundred(fall.RecordsBefore, fall.CountedBefore)} before: bad cases may be among the others.",
            { Caution: VerdictCaution.ModelPartial, Auc: { } auc } => "The case-mix model knows these patients only in part "
                + $"(AUC {auc.ToString("0.00", CultureInfo.InvariantCulture)}).",
            { Caution: VerdictCaution.Exaggerates } => "The signal chose these months, so the rate exaggerates: later months will tell.",
            _ => "",
        };
    }

    /// <summary>How many missing records would take the conclusion away; empty where none would.</summary>
    public static string Tipping(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        if (verdict.Tipping is not var (records, missing, areFailures))
            return "";
        var met = areFailures == (verdict.Measure.Direction == Direction.Up) ? "not met" : "met";
        return missing == 1 ? $"The one missing record would reverse this if it were {met}."
            : records == missing ? $"All {Wording.Number(missing)} missing records, if {met}, would reverse this."
            : $"{Wording.Number(records)} of the {Wording.Number(missing)} missing records, if {met}, would reverse this.";
    }

    /// <summary>Sentence, caution and tipping point: all that is said.</summary>
    public static string Full(Verdict verdict, Titles titles) => string.Join(' ',
        new[] { Sentence(verdict), Caution(verdict, titles), Tipping(verdict) }.Where(part => part.Length > 0));

    /// <summary>The same under a chart, behind the label where the sentence does not open with it.</summary>
    public static string Caption(Verdict verdict, Titles titles)
    {
        var (label, full) = (Label(verdict), Full(verdict, titles));
        return full.StartsWith(label, StringComparison.Ordinal) ? full : $"{label}. {full}".TrimEnd();
    }

    /// <summary>How surely a change for the worse would be noticed; empty where that was not worked out.</summary>
    public static string Noticed(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.Noticed is null ? "" : $"A {Worsening(verdict)} {WouldBeNoticed(verdict)}";
    }

    /// <summary>The same for a reader who has not just read of the measure.</summary>
    public static string NoticedByName(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.Noticed is null ? ""
            : $"At this volume a {Worsening(verdict)} in {Readable.WithinSentence(verdict.Measure.Title)} {WouldBeNoticed(verdict)}";
    }

    private static string Worsening(Verdict verdict) => verdict.Measure.Direction == Direction.Up ? "fall" : "rise";

    private static string WouldBeNoticed(Verdict verdict) => verdict.Noticed is not { } sight ? ""
        : $"to {Wording.Short(sight.To, verdict.Measure.Per)} would be noticed within {Within(sight.WithinMonths)} {InTen(sight.Noticed)}.";

    private static string Within(int months) => months == 12 ? "a year" : Wording.Some(months, "month");

    // A simulated chance has no more digits to give.
    private static string InTen(double chance) => Math.Round(chance * 10) switch
    {
        0 => $"less than 1{Wording.Space}time in{Wording.Space}20",
        1 => $"about 1{Wording.Space}time in{Wording.Space}10",
        10 => "nearly always",
        var times => $"about {times.ToString("0", CultureInfo.InvariantCulture)}{Wording.Space}times in{Wording.Space}10",
    };

    private static string TooFew(Verdict verdict)
    {
        var since = verdict.PhaseFrom is { } phase ? $" since the phase that started in {Wording.Name(phase)}" : "";
        return verdict.ShortHistory is var (months, count) && months > 0
            ? $"Too few cases to judge: {Wording.Number(count.Eligible)} in {Wording.Some(months, "month")}{since}, "
                + "where 12 months and 40 cases are the least."
            : $"Too few cases to judge: 12 months with 40 cases have to lie behind it{since}.";
    }

    private static string Changed(Verdict verdict)
    {
        var change = verdict.Change!;
        var again = verdict.Reason == VerdictReason.Relapse ? " again" : "";
        var open = verdict.Reason is VerdictReason.WorseDespiteEvaluation or VerdictReason.BetterEvaluationOpen;
        var start = $"{verdict.Measure.Title}{(verdict.IsAdjusted ? ", adjusted for case mix," : "")} has probably got "
            + $"{(change.ForTheWorse ? "worse" : "better")}{again} since about {Wording.Name(change.Likeliest)}";
        return verdict.Reason switch
        {
            VerdictReason.WorseDespiteEvaluation => $"{start}: {Now(verdict)}, although the planned evaluation with "
                + $"{Wording.Name(verdict.Evaluation!.Due)} found {Rate(verdict.Evaluation.AfterCount, verdict.Measure)}.",
            VerdictReason.BetterEvaluationOpen => $"{start}: {Now(verdict)}. The planned evaluation alone left it open: "
                + $"{ChangeWording.Difference(verdict.Evaluation!.Difference!)}.",
            _ => $"{start}{(change.From == change.To || open ? "" : $" ({Wording.Span(change.From, change.To)})")}: "
                + $"{Now(verdict)}, before {Wording.Rate(change.Before, verdict.Measure.Per)}.",
        };
    }

    private static string Recording(Verdict verdict) =>
        $"{verdict.Measure.Title} looks better since about {Wording.Name(verdict.Change!.Likeliest)}, but recording changed then. "
        + "Settle that first; until then nothing is shown.";

    private static string Waiting(Verdict verdict)
    {
        var waits = ChangeWording.Say(verdict.Evaluation!);
        return verdict.Label == VerdictLabel.NotTested ? waits : $"No sign of change: {Now(verdict)}. {waits}";
    }

    private static string Rare(Verdict verdict)
    {
        var rare = verdict.Rare!;
        var next = $"Compared once a year, {(rare.Year is null ? "first" : "next")} with {Wording.Name(rare.Due)}.";
        return rare.Year is var (from, to)
            ? $"Too rare to test monthly: {Wording.Fraction(rare.YearCount)} in {Wording.Span(from, to)}, "
                + $"{Wording.Fraction(rare.BeforeCount)} before; no clear difference. {next}"
            : $"Too rare to test monthly: {Wording.Fraction(rare.BeforeCount)} in the history. {next}";
    }

    private static string Yearly(Verdict verdict)
    {
        var (rare, (from, to)) = (verdict.Rare!, verdict.Rare!.Year!.Value);
        return $"{verdict.Measure.Title} was {Rate(rare.YearCount, verdict.Measure)} in {Wording.Span(from, to)}, "
            + $"{Rate(rare.BeforeCount, verdict.Measure)} before ({Wording.P(rare.P!.Value)}, compared once a year). "
            + "Other causes are possible.";
    }

    private static string Now(Verdict verdict) => verdict.Now is not { } now ? "now not known"
        : $"now {Wording.Rate(now.Value, verdict.Measure.Per)} "
            + $"({Wording.Range(now.Interval.Lower, now.Interval.Upper, verdict.Measure.Per)})";

    private static string Rate(Count count, Measure measure) =>
        $"{Wording.Fraction(count)} ({Wording.Rate(count.Met / (double)count.Eligible, measure.Per)})";

    private static string InHundred(long part, long all) =>
        all == 0 ? "0" : Math.Round(100.0 * part / all).ToString("0", CultureInfo.InvariantCulture);
}
