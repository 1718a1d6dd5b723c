using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Outcomes.Synthetic;

/// <summary>The truth as <c>truth.json</c>: counts as whole numbers, chances in thousandths.</summary>
public static class TruthJson
{
    public static string Text(Truth truth)
    {
        ArgumentNullException.ThrowIfNull(truth);
        return JsonSerializer.Serialize(Document(truth), TruthSerializer.Default.TruthDocument) + "\n";
    }

    private static TruthDocument Document(Truth truth) => new()
    {
        Seed = truth.Options.Seed,
        FirstMonth = Month(truth.Options.FirstMonth),
        Months = truth.Options.Months,
        LastDay = truth.Options.LastDay,
        PracticePerMille = DescribePractice(),
        Counts = Tallies(("first_pass.before", truth.FirstPassBefore), ("first_pass.after", truth.FirstPassAfter),
            ("video_first.before", truth.VideoFirstBefore), ("video_first.after", truth.VideoFirstAfter)),
        TrueWhateverWasRecorded = Tallies(("spo2_below_90.winter", truth.SpO2Below90Winter),
            ("spo2_below_90.other_months", truth.SpO2Below90OtherMonths)),
        Ledger = new(truth.Procedures, truth.Attempts),
        Traces = truth.Traces,
        Planted = [.. truth.Planted.Select(pair => KeyValuePair.Create(JsonNamingPolicy.SnakeCaseLower.ConvertName(pair.Key.ToString()),
            (JsonNode?)new JsonArray([.. pair.Value.Select(key => JsonValue.Create(key))])))],
        MissingCells = [.. truth.MissingCells.Select(cells => KeyValuePair.Create(cells.Heading, (JsonNode?)cells.Cells))],
        ByMonth = [.. truth.Months.Select(month => new MonthDocument(Month(month.Month), month.Cases, month.FirstPass))],
    };

    private static PracticeDocument DescribePractice()
    {
        var (before, after) = (Practice.ChangeMonth.AddMonths(-1), Practice.ChangeMonth);
        return new()
        {
            ChangeMonth = Month(Practice.ChangeMonth),
            FirstPassBefore = FirstPass(before),
            FirstPassAfter = FirstPass(after),
            VideoFirstBefore = Practice.VideoFirst(before),
            VideoFirstAfter = Practice.VideoFirst(after),
            Winter = $"{Month(Practice.WinterFrom)}/{Month(Practice.WinterTo)}",
            DesaturationWithoutFailedAttemptWinter = Practice.Desaturation(Practice.WinterFrom, 0),
            DesaturationWithoutFailedAttemptOtherMonths = Practice.Desaturation(Practice.QuietMonth, 0),
            SeniorPresentForeseen = Practice.SeniorPresent(true),
            SeniorPresentOtherwise = Practice.SeniorPresent(false),
            VasopressorReadyForeseen = Practice.VasopressorReady(true),
            VasopressorReadyOtherwise = Practice.VasopressorReady(false),
            AirborneSequenceSince = Month(Practice.SequenceMonth),
        };
    }

    /// <summary>First laryngoscopies by video and direct together.</summary>
    private static int FirstPass(DateOnly date)
    {
        var video = Practice.VideoFirst(date);
        var weighted = (video * Practice.FirstSuccess(date, true)) + ((1000 - video) * Practice.FirstSuccess(date, false));
        return (weighted + 500) / 1000;
    }

    private static JsonObject Tallies(params (string Name, Tally Tally)[] tallies) => [.. tallies.Select(each => KeyValuePair.Create(
        each.Name, (JsonNode?)new JsonObject { ["met"] = each.Tally.Met, ["eligible"] = each.Tally.Eligible }))];

    private static string Month(DateOnly date) => date.ToString("yyyy-MM", CultureInfo.InvariantCulture);
}
