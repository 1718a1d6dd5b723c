using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Catalogue;
using Outcomes.Measures.Review;
using Outcomes.Records;
using Outcomes.Statistics;

namespace Outcomes.Reporting;

/// <summary>What a sentence of the first page is about.</summary>
public enum Topic
{
    /// <summary>How many procedures, and whether that is all of them.</summary>
    Recorded,

    /// <summary>What changed and what did not.</summary>
    Changed,

    /// <summary>What these numbers cannot tell, and why.</summary>
    CannotTell,

    /// <summary>The last declared change.</summary>
    Helped,

    /// <summary>New cases to review, and the actions of earlier meetings.</summary>
    Review,

    /// <summary>What is missing most.</summary>
    Missing,
}

/// <summary>A sentence or two on one topic.</summary>
public sealed record Statement(Topic Topic, string Text);

/// <summary>
/// The three to five statements that open a report. Each is made from the model's numbers by a rule and says nothing that they do not: no
/// cause, no praise, no blame.
/// </summary>
public static class FirstPageWording
{
    private const int Most = 5;

    /// <summary>In the order of printing; what is missing most gives way where there is enough else to say.</summary>
    public static ImmutableArray<Statement> Of(Figures model)
    {
        ArgumentNullException.ThrowIfNull(model);
        var watched = model.Measures.Where(measure => measure.Signal is not null).ToImmutableArray();
        return
        [
            .. new Statement?[]
            {
                new(Topic.Recorded, Recorded(model)), new(Topic.Changed, Changed(watched)), CannotTell(watched), Helped(model),
                Review(model), Missing(model),
            }.OfType<Statement>().Take(Most),
        ];
    }

    private static string Recorded(Figures model)
    {
        var month = model.ProceduresIn(model.Month, model.Month);
        var text = $"{Wording.Some(month, "procedure")} {(month == 1 ? "was" : "were")} recorded in {Wording.Name(model.Month)}"
            + (model.Partial ? $", which was not over on {Wording.Date(model.AsOf)}" : "")
            + (model.YearFrom == model.Month
                ? ""
                : $", {Wording.Number(model.ProceduresIn(model.YearFrom, model.Month))} in {Wording.Span(model.YearFrom, model.Month)}");
        if (model.Capture?.Year is not { Value: { } ratio } capture)
            return text + ". Whether that is all of them is not known: there is no independent count.";
        var share = capture.Interval is { } interval
            ? $" ({Wording.Rate(ratio, 100)}, {Wording.Range(interval.Lower, interval.Upper, 100)})" : "";
        text += $". In the months with an independent count, {Wording.Number(capture.Records)} of {Wording.Number(capture.Counted)} "
            + $"were recorded{share}.";
        return text + (capture.Low ? " So many were not recorded that the figures may describe only those that somebody remembered."
            : capture.High ? " More were recorded than counted: one of the two is wrong." : "");
    }

    private static string Changed(ImmutableArray<MeasureFigures> watched)
    {
        if (watched.IsEmpty)
            return "This report tests no measure for change.";
        var tested = watched.Where(measure => measure.Signal!.State != ChangeState.TooFewToJudge).ToList();
        if (tested.Count == 0)
            return "This report does not test for change yet: a history of at least 12 months with 40 eligible cases has to lie behind a "
                + "measure first. Until then it shows counts, intervals and cases.";
        var found = tested.Where(measure => measure.Signal!.State == ChangeState.ChangeSignal).ToList();
        if (found.Count == 0)
            return $"Monthly test: {(tested.Count == 1 ? "the one headline measure has not"
                : $"none of {Wording.Some(tested.Count, "headline measure")} has")} crossed its limit for change." + Differing(tested);
        var said = string.Join(" ",
            found.Select(measure => $"{measure.Measure.Title}: {Readable.WithinSentence(SignalWording.Said(measure))}"
                + $"{(MixWording.Difference(measure) is { Length: > 0 } differs ? $" {differs}" : "")}"));
        var quiet = tested.Count - found.Count;
        return said + (quiet == 0 ? "" : $" The other {(quiet == 1 ? "headline measure has"
            : Wording.Some(quiet, "headline measure") + " have")} not crossed {(quiet == 1 ? "its limit" : "their limits")} for change.")
            + Differing(tested.Except(found));
    }

    // A quiet measure whose counts alone would have signalled: silence on that would look like an oversight beside its chart.
    private static string Differing(IEnumerable<MeasureFigures> quiet) => string.Concat(quiet
        .Select(measure => (measure.Measure.Title, Text: MixWording.Difference(measure))).Where(pair => pair.Text.Length > 0)
        .Select(pair => $" {pair.Title}: {Readable.WithinSentence(pair.Text)}"));

    /// <summary>Too few cases first; else the smallest change of the first quiet measure that was worked out.</summary>
    private static Statement? CannotTell(ImmutableArray<MeasureFigures> watched)
    {
        var few = watched.Where(measure => measure.Signal!.State == ChangeState.TooFewToJudge).ToList();
        if (few.Count > 0 && few.Count < watched.Length)
            return new(Topic.CannotTell, $"Too few cases to judge {Listed(few.Select(measure => measure.Measure.Title))}.");
        var quiet = watched.FirstOrDefault(measure => measure.Signal!.State == ChangeState.NoSignOfChange
            && !measure.Signal.Sights.IsEmpty);
        if (quiet is null)
            return null;
        var sight = quiet.Signal!.Sights.MinBy(each => each.Noticed)!;
        var per = quiet.Measure.Per;
        var worse = quiet.Measure.Direction == Direction.Up ? "fall" : "rise";
        return new(Topic.CannotTell,
            $"At this volume a {worse} in {Readable.WithinSentence(quiet.Measure.Title)} from {Wording.Short(sight.From, per)} "
                + $"to {Wording.Short(sight.To, per)} would be noticed within {Wording.Number(sight.WithinMonths)} months "
                + $"{SignalWording.Often(sight.Noticed)}.");
    }

    // The last change that was evaluated, else the last that waits for its date: in the words of its own section.
    private static Statement? Helped(Figures model)
    {
        var told = model.Changes.LastOrDefault(change => change.State != EvaluationState.Waiting) ?? model.Changes.LastOrDefault();
        if (told is null)
            return null;
        var first = model.Changes.First(change => change.Change == told.Change);
        return new(Topic.Helped, $"{first.Change.What}: {Readable.WithinSentence(ChangeWording.Say(first))}");
    }

    /// <summary>Counts by tier and never by event: what happened in a case stands in the pack alone.</summary>
    private static Statement? Review(Figures model)
    {
        var tiers = model.Review.Where(count => count.Kind is CaseKind.One or CaseKind.Two).ToList();
        if (tiers.Count == 0 && model.Actions.IsEmpty)
            return null;
        var cases = tiers.Sum(count => count.Cases) == 0 ? "No new case of tier 1 or 2 is to be reviewed."
            : "New to review: " + string.Join(" and ", tiers.Where(count => count.Cases > 0)
                .Select(count => $"{Wording.Some(count.Cases, "case")} of {Readable.WithinSentence(CaseWording.Name(count.Kind))}"))
              + (tiers.Sum(count => count.Late) is > 0 and var late
                  ? $", {Wording.Number(late)} of them from earlier months, entered or changed late."
                  : ".");
        return new(Topic.Review,
            string.Join(" ", new[] { tiers.Count == 0 ? "" : cases, model.Actions.IsEmpty ? "" : ActionWording.Sentence(model.Actions) }
                .Where(part => part.Length > 0)));
    }

    private static Statement? Missing(Figures model)
    {
        if (model.Questions.IsEmpty)
            return null;
        var worst = model.Questions[0];
        return new(Topic.Missing, worst.Columns.IsEmpty
            ? $"Largest data gap: {Readable.WithinSentence(worst.Title)}, which no source collects."
            : $"Largest data gap: {Readable.WithinSentence(worst.Title)}, missing in {worst.WhatIsMissing()} records of "
                + $"the last 12 months.");
    }

    /// <summary>Titles inside a sentence.</summary>
    internal static string Listed(IEnumerable<string> titles)
    {
        var all = titles.Select(Readable.WithinSentence).ToList();
        return all.Count == 1 ? all[0] : $"{string.Join(", ", all.Take(all.Count - 1))} and {all[^1]}";
    }
}
