using System.Text.Json.Nodes;
using System.Text.Json.Serialization;

namespace Outcomes.Synthetic;

/// <summary><c>truth.json</c>; its parts are serialised in the order in which they stand here.</summary>
internal sealed record TruthDocument
{
    public string About { get; } = "Invented data with known truth. No patient, person or hospital is real; no figure is a benchmark.";

    public required int Seed { get; init; }

    public required string FirstMonth { get; init; }

    public required int Months { get; init; }

    public required DateOnly LastDay { get; init; }

    public required PracticeDocument PracticePerMille { get; init; }

    /// <summary>Tallies by the name of the measure and when.</summary>
    public required JsonObject Counts { get; init; }

    public required JsonObject TrueWhateverWasRecorded { get; init; }

    public required LedgerDocument Ledger { get; init; }

    public required TraceTruth Traces { get; init; }

    /// <summary>Keys of records by what was planted in them.</summary>
    public required JsonObject Planted { get; init; }

    /// <summary>Number of cells left out by heading.</summary>
    public required JsonObject MissingCells { get; init; }

    public required IReadOnlyList<MonthDocument> ByMonth { get; init; }
}

internal sealed record LedgerDocument(RowTruth Procedures, RowTruth Attempts);

internal sealed record MonthDocument(string Month, int Cases, Tally FirstPass);

/// <summary>How the invented department works: chances in thousandths, months in ISO 8601.</summary>
internal sealed record PracticeDocument
{
    public required string ChangeMonth { get; init; }

    public required int FirstPassBefore { get; init; }

    public required int FirstPassAfter { get; init; }

    public required int VideoFirstBefore { get; init; }

    public required int VideoFirstAfter { get; init; }

    public required string Winter { get; init; }

    public required int DesaturationWithoutFailedAttemptWinter { get; init; }

    public required int DesaturationWithoutFailedAttemptOtherMonths { get; init; }

    public required int SeniorPresentForeseen { get; init; }

    public required int SeniorPresentOtherwise { get; init; }

    public required int VasopressorReadyForeseen { get; init; }

    public required int VasopressorReadyOtherwise { get; init; }

    public required string AirborneSequenceSince { get; init; }
}

/// <summary>The serialiser of the truth, compiled with the tool.</summary>
[JsonSourceGenerationOptions(WriteIndented = true, NewLine = "\n", PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower)]
[JsonSerializable(typeof(TruthDocument))]
internal sealed partial class TruthSerializer : JsonSerializerContext;
