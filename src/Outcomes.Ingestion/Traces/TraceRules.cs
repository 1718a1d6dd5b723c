namespace Outcomes.Ingestion.Traces;

/// <summary>
/// The numbers that the rules of <c>docs/statistics/traces.md</c> turn on. Where no source is named they are proposals of this project,
/// chosen so that a monitor's usual output (a sample every second to every minute; a cuff every few minutes) can be judged.
/// </summary>
public static class TraceRules
{
    /// <summary>Changes whenever the same samples would be summarised otherwise.</summary>
    public const int Version = 1;

    /// <summary>A gap longer than this many sampling intervals is unknown time: one missed sample is bridged, two are not.</summary>
    public const double GapIntervals = 2.5;

    /// <summary>How long a value must last to be sustained, in ms; at least <see cref="SustainedSamples"/> samples in any case.</summary>
    public const int SustainedMs = 10_000;

    public const int SustainedSamples = 2;

    /// <summary>Share of the window that must be known before a duration is given.</summary>
    public const double LeastCoverage = 0.8;

    /// <summary>Sparser than this, saturation is not judged: it may fall and recover between two samples.</summary>
    public const int SparsestMs = 60_000;

    /// <summary>The same for pressures, which a cuff measures every few minutes.</summary>
    public const int SparsestPressureMs = 300_000;

    /// <summary>
    /// A lone sample that departs from both neighbours by more than this is an artefact, where they stand close together.
    /// </summary>
    public const double SpO2Jump = 10;

    public const double PressureJump = 50;

    /// <summary>The furthest apart that the neighbours of a lone sample may stand for it to be judged by them.</summary>
    public const int JumpNeighboursMs = 20_000;

    public const double Hypoxaemia = 90;

    public const double SevereHypoxaemia = 80;

    public const double Recovered = 94;

    public const double LowSystolic = 90;

    public const double LowMean = 65;

    /// <summary>Breaths over which carbon dioxide must last, and its least height in kPa: Chrimes 2022, Anaesthesia 77.</summary>
    public const double SustainedBreaths = 7;

    public const double CarbonDioxideKpa = 1;

    /// <summary>End of the window after the tube where the record names none: usual in trials (Casey 2019, NEJM 380:811).</summary>
    public const int AfterTubeMs = 120_000;
}
