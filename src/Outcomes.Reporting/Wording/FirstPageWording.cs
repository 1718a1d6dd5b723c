using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Measures.Review;
using Outcomes.Records;

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
        ImmutableArray<Verdict> verdicts =
            [.. model.Measures.Select(measure => measure.Verdict).OfType<Verdict>()
                .Where(verdict => verdict.Reason != VerdictReason.NotAsked)];
        return
        [
            .. new Statement?[]
            {
                new(Topic.Recorded, Recorded(model)), new(Topic.Changed, Changed(model, verdicts)), CannotTell(verdicts), Helped(verdicts),
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
        if (DataWording.Provisional(model.Provisional) is { Length: > 0 } provisional)
            text += ". " + provisional[..^1];
        if (model.Capture?.Year is not { Value: { } ratio } capture)
            return text + ". Whether that is all of them is not known: there is no independent count.";
        var share = capture.Interval is { } interval
            ? $" ({Wording.Rate(ratio, 100)}, {Wording.Range(interval.Lower, interval.Upper, 100)})" : "";
        text += $". In the months with an independent count, {Wording.Number(capture.Records)} of {Wording.Number(capture.Counted)} "
            + $"were recorded{share}.";
        return text + (capture.Low ? " So many were not recorded that the figures may describe only those that somebody remembered."
            : capture.High ? " More were recorded than counted: one of the two is wrong." : "");
    }

    // What changed in its own words, and by name what did not.
    private static string Changed(Figures model, ImmutableArray<Verdict> verdicts)
    {
        var tested = model.Measures.Where(measure => measure.Signal is not null).Select(measure => measure.Verdict!).ToList();
        var said = verdicts.Where(verdict => verdict.SaysChange || verdict.Label == VerdictLabel.NotShown)
            .Select(verdict => VerdictWording.Full(verdict, model.Titles));
        var quiet = tested.Where(verdict => verdict.Label == VerdictLabel.NoSignOfChange).ToList();
        var text = string.Join(' ', [.. said, .. quiet.Count == 0 ? (string[])[] : [$"No sign of change in {Titles(quiet)}."]]);
        return text.Length > 0 ? text
            : tested.Count == 0 ? "This report tests no measure for change."
            : "This report does not test for change yet: 12 months with 40 eligible cases have to lie behind a measure first. "
                + "Until then it shows counts, intervals and cases.";
    }

    /// <summary>Too few cases first; else what would be noticed of the first quiet measure.</summary>
    private static Statement? CannotTell(ImmutableArray<Verdict> verdicts)
    {
        var few = verdicts.Where(verdict => verdict.Label == VerdictLabel.TooFewToJudge).ToList();
        if (few.Count > 0 && few.Count < verdicts.Length)
            return new(Topic.CannotTell, $"Too few cases to judge {Titles(few)}.");
        return verdicts.FirstOrDefault(verdict => verdict is { Label: VerdictLabel.NoSignOfChange, Noticed: not null }) is { } quiet
            ? new(Topic.CannotTell, VerdictWording.NoticedByName(quiet)) : null;
    }

    // A declared change that still waits for its evaluation: one that is evaluated stands among the changes above.
    private static Statement? Helped(ImmutableArray<Verdict> verdicts) =>
        verdicts.Select(verdict => verdict.Evaluation).FirstOrDefault(each => each is { State: EvaluationState.Waiting }) is { } waiting
            ? new(Topic.Helped, $"{waiting.Change.What}: {Readable.WithinSentence(ChangeWording.Say(waiting))}") : null;

    private static string Titles(IEnumerable<Verdict> verdicts) => Listed(verdicts.Select(verdict => verdict.Measure.Title));

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
