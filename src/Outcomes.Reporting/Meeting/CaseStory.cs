using System.Collections.Immutable;
using Outcomes.Analysis;
using Outcomes.Records;
using Outcomes.Reporting.Cases;

namespace Outcomes.Reporting.Meeting;

/// <summary>
/// A case in one line, from its fields alone: <c>60 to 74 years, hypoxaemia, two attempts, lowest saturation 61 %, plan B</c>.
/// </summary>
public static class CaseStory
{
    private static readonly string[] Numbers = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

    private static readonly (string Column, string Happened)[] Events =
    [
        ("oesophageal", "oesophageal intubation"), ("cardiac_arrest_peri", "cardiac arrest"), ("death_24h", "died within 24 hours"),
    ];

    /// <summary>The line; what is not recorded is left out, and a case of which nothing is recorded says so.</summary>
    public static string Tell(ReviewCase each, CasePack pack)
    {
        ArgumentNullException.ThrowIfNull(each);
        ArgumentNullException.ThrowIfNull(pack);
        string[] parts = [.. Parts(each, pack)];
        return parts.Length == 0 ? "The record says nothing beyond what fired." : Sentence(string.Join(", ", parts));
    }

    private static IEnumerable<string> Parts(ReviewCase each, CasePack pack)
    {
        if (Value("age_band") is { } band)
            yield return Title("age_band", band);
        if (Value("primary_indication") is { } indication)
            yield return Readable.WithinSentence(Title("primary_indication", indication));
        if (Value("cardiac_arrest_before") == "yes")
            yield return "in cardiac arrest before";
        if (Value("attempts") is { } attempts && int.TryParse(attempts, out var number))
            yield return $"{(number < Numbers.Length ? Numbers[number] : Wording.Number(number))} {(number == 1 ? "attempt" : "attempts")}";
        if (Value("lowest_spo2") is { } saturation)
            yield return $"lowest saturation {CaseFacts.Fact(pack, "lowest_spo2", saturation).Value}";
        // A pressure is told where it is why the case is here.
        if (Value("lowest_sbp") is { } pressure
            && each.Flags.Any(flag => flag.Shows.Contains("lowest_sbp") || flag.Shows.Contains("sbp_min")))
            yield return $"lowest systolic pressure {CaseFacts.Fact(pack, "lowest_sbp", pressure).Value}";
        if (Value("final_plan") is { } plan)
            yield return Readable.WithinSentence(Title("final_plan", plan));
        foreach (var (column, happened) in Events)
            if (Value(column) == "yes")
                yield return happened;

        string? Value(string column) => each.Values.GetValueOrDefault(column);

        string Title(string column, string value) => pack.Titles.Level(column, value);
    }

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";
}
