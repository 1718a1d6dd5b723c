using Bogus;

namespace Outcomes.Synthetic.Export;

/// <summary>
/// The monitor's export: a row every ten seconds, timed from induction. It is there for most records of the last months, since a
/// department seldom has it for all. A saturation falls to the record's lowest, stays there for three samples and rises again; some
/// samples are marked as artefacts, some leap alone, and some traces lose a stretch.
/// </summary>
internal sealed class TraceRows(SynthesisOptions options)
{
    public const int Every = 10;

    private const int Months = 3;

    // The department looks for lowest values for 30 min from induction on, and so does its monitor.
    private const int Last = 1800 / Every;

    private const int Never = int.MaxValue;

    public static readonly string[] Headings = ["Case ref", "Offset (s)", "SpO2 (%)", "Systolic (mmHg)", "Flag"];

    private int _rows;
    private int _records;
    private int _gaps;
    private long _seconds;

    /// <summary>What is true of the rows written so far.</summary>
    public TraceTruth Truth => new(_rows, _records, _gaps, _seconds);

    /// <summary>
    /// Writes the trace of a procedure, if it has one. A planted record has none: what was planted is what is wrong with it.
    /// </summary>
    public void Write(Procedure procedure, TextWriter writer)
    {
        if (procedure.Planted is not null || procedure.Date < options.FirstMonth.AddMonths(options.Months - Months)) return;
        var draw = new Randomizer(Seeds.ForTrace(options.Seed, procedure.RecordId));
        if (!draw.Chance(700)) return;
        var (seen, fall) =
            (procedure.Observations, Math.Clamp(procedure.Course.Attempts.Sum(attempt => attempt.DurationSeconds), 30, 300) / Every);
        var lowest = 3 + fall;
        var recovered = lowest + 3 + ((Recovered(seen) - seen.SpO2Min + 1) / 2);
        // Behind the fall, so that the lowest value is seen; ten minutes, so that the trace covers too little of its window.
        var gap = draw.Chance(100) ? lowest + 4 : Never;
        var (artefact, leap) = (draw.Chance(200) ? draw.Int(1, 2) : Never, draw.Chance(200) ? recovered + draw.Int(2, 9) : Never);
        for (var i = -6; i <= Last; i++)
        {
            if (i >= gap && i < gap + 60) continue;
            var value = Saturation(seen, i, lowest);
            Csv.Row(writer,
            [
                procedure.RecordId, Cells.Number(i * Every), Cells.Number(i == artefact ? 40
                    : i == leap ? Math.Max(20, value - 30)
                    : value), i % 6 == 0 ? Cells.Number(i == 0 ? seen.SbpPre : i == 6 ? seen.SbpMin : (seen.SbpPre + seen.SbpMin) / 2) : "",
                i == artefact ? "A" : "",
            ]);
            _rows++;
            // The last sample stands at the window's end, where no time is left.
            if (gap == Never && i >= 0 && i < Last && value < 90) _seconds += Every;
        }

        _records++;
        if (gap != Never) _gaps++;
    }

    // In whole points: level until 30 s, down to the lowest, three samples there, then up two points a sample.
    private static int Saturation(Observations seen, int i, int lowest) =>
        i <= 3 ? seen.SpO2Pre
        : i < lowest ? seen.SpO2Pre - ((seen.SpO2Pre - seen.SpO2Min) * (i - 3) / (lowest - 3))
        : i < lowest + 3 ? seen.SpO2Min
        : Math.Min(Recovered(seen), seen.SpO2Min + (2 * (i - lowest - 2)));

    // With a tube and oxygen a saturation that was low before does not stay so.
    private static int Recovered(Observations seen) => Math.Max(seen.SpO2Pre, 96);
}
