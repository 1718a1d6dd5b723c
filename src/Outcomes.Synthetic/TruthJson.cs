using System.Globalization;
using System.Text;
using System.Text.Json;

namespace Outcomes.Synthetic;

/// <summary>The truth as <c>truth.json</c>: counts as whole numbers, chances in thousandths.</summary>
public static class TruthJson
{
    public static string Text(Truth truth)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
            Write(json, truth);
        return Encoding.UTF8.GetString(bytes.ToArray()) + "\n";
    }

    private static void Write(Utf8JsonWriter json, Truth truth)
    {
        json.WriteStartObject();
        json.WriteString("about", "Invented data with known truth. No patient, person or hospital is real; no figure is a benchmark.");
        json.WriteNumber("seed", truth.Options.Seed);
        json.WriteString("first_month", Month(truth.Options.FirstMonth));
        json.WriteNumber("months", truth.Options.Months);
        json.WriteString("last_day", truth.Options.LastDay.ToString("O", CultureInfo.InvariantCulture));
        WritePractice(json);
        json.WriteStartObject("counts");
        Write(json, "first_pass.before", truth.FirstPassBefore);
        Write(json, "first_pass.after", truth.FirstPassAfter);
        Write(json, "video_first.before", truth.VideoFirstBefore);
        Write(json, "video_first.after", truth.VideoFirstAfter);
        json.WriteEndObject();
        json.WriteStartObject("true_whatever_was_recorded");
        Write(json, "spo2_below_90.winter", truth.SpO2Below90Winter);
        Write(json, "spo2_below_90.other_months", truth.SpO2Below90OtherMonths);
        json.WriteEndObject();
        json.WriteStartObject("ledger");
        Write(json, "procedures", truth.Procedures);
        Write(json, "attempts", truth.Attempts);
        json.WriteEndObject();
        json.WriteStartObject("traces");
        json.WriteNumber("rows", truth.Traces.Rows);
        json.WriteNumber("records", truth.Traces.Records);
        json.WriteNumber("low_coverage", truth.Traces.LowCoverage);
        json.WriteNumber("seconds_below_90", truth.Traces.SecondsBelow90);
        json.WriteEndObject();
        json.WriteStartObject("planted");
        foreach (var (plant, keys) in truth.Planted)
        {
            json.WriteStartArray(JsonNamingPolicy.SnakeCaseLower.ConvertName(plant.ToString()));
            foreach (var key in keys)
                json.WriteStringValue(key);
            json.WriteEndArray();
        }
        json.WriteEndObject();
        json.WriteStartObject("missing_cells");
        foreach (var (heading, cells) in truth.MissingCells)
            json.WriteNumber(heading, cells);
        json.WriteEndObject();
        json.WriteStartArray("by_month");
        foreach (var month in truth.Months)
        {
            json.WriteStartObject();
            json.WriteString("month", Month(month.Month));
            json.WriteNumber("cases", month.Cases);
            Write(json, "first_pass", month.FirstPass);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WritePractice(Utf8JsonWriter json)
    {
        var (before, after) = (Practice.ChangeMonth.AddMonths(-1), Practice.ChangeMonth);
        json.WriteStartObject("practice_per_mille");
        json.WriteString("change_month", Month(Practice.ChangeMonth));
        json.WriteNumber("first_pass_before", FirstPass(before));
        json.WriteNumber("first_pass_after", FirstPass(after));
        json.WriteNumber("video_first_before", Practice.VideoFirst(before));
        json.WriteNumber("video_first_after", Practice.VideoFirst(after));
        json.WriteString("winter", $"{Month(Practice.WinterFrom)}/{Month(Practice.WinterTo)}");
        json.WriteNumber("desaturation_without_failed_attempt_winter", Practice.Desaturation(Practice.WinterFrom, 0));
        json.WriteNumber("desaturation_without_failed_attempt_other_months", Practice.Desaturation(Practice.QuietMonth, 0));
        json.WriteNumber("senior_present_foreseen", Practice.SeniorPresent(true));
        json.WriteNumber("senior_present_otherwise", Practice.SeniorPresent(false));
        json.WriteNumber("vasopressor_ready_foreseen", Practice.VasopressorReady(true));
        json.WriteNumber("vasopressor_ready_otherwise", Practice.VasopressorReady(false));
        json.WriteString("airborne_sequence_since", Month(Practice.SequenceMonth));
        json.WriteEndObject();
    }

    /// <summary>First laryngoscopies by video and direct together.</summary>
    private static int FirstPass(DateOnly date)
    {
        var video = Practice.VideoFirst(date);
        var weighted = (video * Practice.FirstSuccess(date, true)) + ((1000 - video) * Practice.FirstSuccess(date, false));
        return (weighted + 500) / 1000;
    }

    private static void Write(Utf8JsonWriter json, string name, Tally tally)
    {
        json.WriteStartObject(name);
        json.WriteNumber("met", tally.Met);
        json.WriteNumber("eligible", tally.Eligible);
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, string name, RowTruth rows)
    {
        json.WriteStartObject(name);
        json.WriteNumber("rows_in", rows.RowsIn);
        json.WriteNumber("accepted", rows.Accepted);
        json.WriteNumber("superseded", rows.Superseded);
        json.WriteNumber("quarantined", rows.Quarantined);
        json.WriteEndObject();
    }

    private static string Month(DateOnly date) => date.ToString("yyyy-MM", CultureInfo.InvariantCulture);
}
