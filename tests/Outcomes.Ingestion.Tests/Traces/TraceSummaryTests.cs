using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Traces;
using static Outcomes.Tests.Ingestion.Traces.Drawn;

namespace Outcomes.Tests.Ingestion.Traces;

/// <summary>
/// The rules of docs/statistics/traces.md on traces small enough to be worked by hand; every expected value is worked out in the comment
/// above it. The rules themselves are this project's, but for the limits 90 and 80 % and 94 %, 90 and 65 mmHg (common practice), the
/// two minutes after the tube (Casey 2019, NEJM 380:811) and the seven breaths (Chrimes 2022, Anaesthesia 77).
/// </summary>
public class TraceSummaryTests
{
    // s       0   10  20  30  40  50  60  70  80  90 100 ... 170; tube at 50, so that the window is 0 to 170
    private static readonly Sample[] Dip = Every(10, 0, 98, 98, 96, 92, 88, 84, 86, 92, 95, 96, 97, 97, 97, 97, 97, 97, 97, 97);

    [Fact]
    public void A_dip_at_ten_seconds()
    {
        var seen = SpO2(Dip, tube: 50);
        Assert.Equal(new TraceWindow(170_000, WindowEnd.AfterTube), seen.Window);
        Assert.Equal((TraceStatus.Sufficient, 1.0), (seen.SpO2.Status, seen.SpO2.Coverage));
        Assert.Equal(84, seen.SpO2.Lowest);
        // Two samples together: the higher of 88, 84 is 88, of 84, 86 it is 86: they stayed at 86 or below.
        Assert.Equal(86, seen.SustainedLowest);
        // 88, 84, 86 for 10 s each; (2 + 6 + 4) x 10
        Assert.Equal((30_000, 120.0), (seen.Below90Ms, seen.Area90));
        Assert.Equal((0, 0.0), (seen.Below80Ms, seen.Area80));
        // 88 at 40 s is the first of two at 90 or below.
        Assert.Equal(40_000, seen.TimeTo90Ms);
        // 98 at 0 s to 84 at 50 s: 14 points in 50 s
        Assert.Equal(16.8, seen.DesaturationRate!.Value, 1e-12);
        // below 90 from 40 s; 95 at 80 s is the first of two at 94 or above
        Assert.Equal(40_000, seen.RecoveryMs);
    }

    [Fact]
    public void Time_counts_from_the_start_of_apnoea_where_it_is_known()
    {
        var seen = SpO2(Dip, tube: 50, apnoea: 20);
        Assert.Equal(20_000, seen.TimeTo90Ms);
        // 96 at 20 s to 84 at 50 s: 12 points in 30 s
        Assert.Equal(24, seen.DesaturationRate!.Value, 1e-12);
    }

    [Theory]
    // One second: ten samples make ten seconds. Nine samples of 85 between 95s: in any ten there is a 95, so only that is sustained.
    [InlineData(1, 9, 95)]
    [InlineData(1, 10, 85)]
    // Five seconds: two samples; four: three (2 x 4 s are 8 s); a minute: two.
    [InlineData(5, 1, 95)]
    [InlineData(5, 2, 85)]
    [InlineData(4, 2, 95)]
    [InlineData(4, 3, 85)]
    [InlineData(10, 2, 85)]
    [InlineData(60, 1, 95)]
    [InlineData(60, 2, 85)]
    public void Sustained_is_ten_seconds_and_at_least_two_samples(int every, int low, double expected)
    {
        double[] around = [.. Enumerable.Repeat(95.0, 20)];
        Assert.Equal(expected, SpO2(Every(every, 0, [.. around, .. Enumerable.Repeat(85.0, low), .. around])).SustainedLowest);
    }

    [Theory]
    [InlineData(1, 10)]
    [InlineData(10, 20)]
    [InlineData(60, 120)]
    public void Seconds_below_are_samples_times_interval(int every, int seconds)
    {
        double[] around = [.. Enumerable.Repeat(95.0, 20)];
        double[] low = [.. Enumerable.Repeat(80.0, seconds / every)];
        var seen = SpO2(Every(every, 0, [.. around, .. low, .. around]));
        // at 80 for that time: 10 points below 90, and not below 80
        Assert.Equal((seconds * 1000, seconds * 10.0, 0), (seen.Below90Ms, seen.Area90, seen.Below80Ms));
    }

    [Fact]
    public void One_missed_sample_is_bridged_and_a_longer_gap_is_unknown_time()
    {
        // 10 s apart, 85 throughout. Missing at 20 s: the sample at 10 s stands for 20 s. Missing at 50 and 60 s: that at 40 s stands for
        // 10 s, and 20 s are unknown. Window to the last row at 90 s: 70 of 90 s known is 77.8 %, too little for durations.
        var seen = SpO2(At((0, 85), (10, 85), (30, 85), (40, 85), (70, 85), (80, 85), (90, 85)));
        Assert.Equal((TraceStatus.LowCoverage, 70 / 90.0), (seen.SpO2.Status, seen.SpO2.Coverage));
        Assert.Null(seen.Below90Ms);
        Assert.Null(seen.Area90);
        Assert.Null(seen.TimeTo90Ms);
        // What was seen was seen.
        Assert.Equal((85, 85), (seen.SpO2.Lowest, seen.SustainedLowest));
        // Ten seconds more at either end: 90 of 110 s is 81.8 %, and the gap is not counted as low.
        var longer = SpO2(At((0, 85), (10, 85), (30, 85), (40, 85), (70, 85), (80, 85), (90, 85), (100, 85), (110, 85)));
        Assert.Equal((TraceStatus.Sufficient, 90_000), (longer.SpO2.Status, longer.Below90Ms));
    }

    [Fact]
    public void A_gap_breaks_what_is_sustained()
    {
        // 84 before the gap and 84 behind it are no two samples together.
        var seen = SpO2(At((0, 95), (10, 95), (20, 84), (60, 84), (70, 95), (80, 95), (90, 95), (100, 95), (110, 95),
            (120, 95), (130, 95), (140, 95)));
        Assert.Equal((84, 95), (seen.SpO2.Lowest, seen.SustainedLowest));
    }

    [Fact]
    public void A_row_without_a_value_is_no_sample_but_tells_the_interval()
    {
        // Every other row is an artefact: the interval stays 1 s, the gaps of 2 s are bridged.
        var seen = SpO2(Every(1, 0, [.. Enumerable.Range(0, 101).Select(i => i % 2 == 0 ? 88 : None)]));
        Assert.Equal(1000, seen.IntervalMs);
        Assert.Equal((1.0, 100_000), (seen.SpO2.Coverage, seen.Below90Ms));
    }

    [Fact]
    public void A_lone_leap_is_an_artefact_and_a_fall_that_stays_is_not()
    {
        Assert.Equal(96, SpO2(Every(1, 0, 97, 97, 96, 61, 97, 97, 97)).SpO2.Lowest);
        // 10 points are possible, 11 are not.
        Assert.Equal(86, SpO2(Every(1, 0, 97, 96, 86, 97, 97)).SpO2.Lowest);
        Assert.Equal(96, SpO2(Every(1, 0, 97, 96, 85, 97, 97)).SpO2.Lowest);
        Assert.Equal(61, SpO2(Every(1, 0, 97, 97, 61, 61, 97, 97)).SpO2.Lowest);
        // Twenty seconds from neighbour to neighbour are judged, a minute to either side is not.
        Assert.Equal(97, SpO2(Every(10, 0, 97, 97, 61, 97, 97)).SpO2.Lowest);
        Assert.Equal(61, SpO2(Every(60, 0, 97, 97, 61, 97, 97)).SpO2.Lowest);
    }

    [Fact]
    public void Several_samples_at_one_moment_count_as_their_median_in_whatever_order()
    {
        Sample[] samples =
        [
            new(0, 97), new(10_000, 96), new(10_000, 80), new(10_000, 94), new(20_000, 97), new(30_000, None), new(30_000, 92)
        ];
        Assert.Equal(92, SpO2(samples).SpO2.Lowest);
        Assert.Equal(94, SpO2(samples[..5]).SpO2.Lowest);
        (samples[1], samples[2], samples[3]) = (samples[3], samples[1], samples[2]);
        Assert.Equal(94, SpO2(samples[..5]).SpO2.Lowest);
    }

    [Fact]
    public void The_window_begins_at_induction_and_ends_with_the_observation()
    {
        // -20 to 400 s every 10 s: 70 before induction, 95 until 200 s, then 85.
        var samples = Every(10, -20, [70, 70, .. Enumerable.Repeat(95.0, 20), .. Enumerable.Repeat(85.0, 21)]);
        Assert.Equal((95, 0), (SpO2(samples, tube: 60).SpO2.Lowest, SpO2(samples, tube: 60).Below90Ms)); // to 180 s
        Assert.Equal((85, 20_000), (SpO2(samples, tube: 100).SpO2.Lowest, SpO2(samples, tube: 100).Below90Ms)); // to 220 s
        Assert.Equal((WindowEnd.TraceEnd, 200_000), (SpO2(samples).Window.End, SpO2(samples).Below90Ms)); // to 400 s
        Assert.Equal(new TraceWindow(1_800_000, WindowEnd.ObservationWindow), SpO2(samples, tube: 60, window: "to_30min").Window);
        Assert.Equal(TraceStatus.LowCoverage, SpO2(samples, tube: 60, window: "to_30min").SpO2.Status);
        Assert.Equal(new TraceWindow(3_660_000, WindowEnd.ObservationWindow), SpO2(samples, tube: 60, window: "to_60min").Window);
    }

    [Fact]
    public void No_samples_is_never_zero_seconds()
    {
        foreach (var (seen, status) in new[]
        {
            (SpO2([]), TraceStatus.NoSamples), (SpO2(Every(1, 0, None, None, None)), TraceStatus.NoSamples),
            (SpO2(Every(1, -10, 85, 85, 85)), TraceStatus.NoSamples),
            (SpO2(At((5, 85)), tube: 60), TraceStatus.TooSparse), (SpO2(Every(61, 0, 85, 85, 85, 85)), TraceStatus.TooSparse),
        })
        {
            Assert.Equal(status, seen.SpO2.Status);
            Assert.Null(seen.Below90Ms);
            Assert.Null(seen.Area90);
            Assert.Null(seen.DesaturationRate);
        }
    }

    [Fact]
    public void Ninety_is_not_below_ninety_and_reaching_it_is_at_ninety()
    {
        var seen = SpO2(Every(10, 0, 96, 90, 90, 90, 96, 96, 96, 96));
        Assert.Equal((0, 10_000), (seen.Below90Ms, seen.TimeTo90Ms));
        Assert.Null(seen.RecoveryMs);
        Assert.Null(SpO2(Every(10, 0, 96, 90, 96, 96, 96)).TimeTo90Ms);
    }

    [Fact]
    public void Without_recovery_in_the_trace_there_is_none()
    {
        Assert.Null(SpO2(Every(10, 0, 96, 85, 85, 93, 93, 93, 93)).RecoveryMs);
        Assert.Null(SpO2(Every(10, 0, 96, 85, 85, 93, 94, 93, 93)).RecoveryMs);
        // Recovery is looked for behind the window too: tube at 0, window to 120 s, 94 from 150 s on, below from 10 s.
        Assert.Equal(140_000, SpO2(Every(10, 0, [96, .. Enumerable.Repeat(85.0, 14), 94, 95]), tube: 0).RecoveryMs);
    }

    [Fact]
    public void Pressures_from_a_cuff_every_three_minutes_and_from_a_line()
    {
        // Cuff at 0, 180, 360, 540 s; window to the last row: 85 stands for 180 s.
        var cuff = Of(null, null, null, (Signal.Systolic, Every(180, 0, 120, 85, 110, 110)), (Signal.Mean, Every(180, 0, 80, 64, 65, 60)));
        Assert.Equal((TraceStatus.Sufficient, 85, 180_000),
            (cuff.Systolic.Signal.Status, cuff.Systolic.Signal.Lowest, cuff.Systolic.LowMs));
        // 64 for 180 s; 65 is not below 65; 60 at the very end has no time left in the window, and is the lowest all the same
        Assert.Equal((60, 180_000), (cuff.Mean.Signal.Lowest, cuff.Mean.LowMs));
        // Line at 1 s; a flush to 300 and then 30, a second each, is an artefact.
        var line = Of(10, null, null, (Signal.Systolic,
            Every(1, 0, [.. Enumerable.Repeat(100.0, 50), 300, 30, .. Enumerable.Repeat(88.0, 30), .. Enumerable.Repeat(95.0, 60)])));
        // 300 leaps from 100 and 30, and 30 from 300 and 88; both go.
        Assert.Equal((88, 30_000), (line.Systolic.Signal.Lowest, line.Systolic.LowMs));
    }

    [Fact]
    public void Seven_breaths_of_carbon_dioxide_after_the_tube()
    {
        // 12 breaths a minute is one every 5 s: 35 s above 1 kPa are 7 breaths, 30 s are 6. Before the tube nothing counts.
        Assert.Equal(7, Breaths(35), 1e-9);
        Assert.Equal(6, Breaths(30), 1e-9);
        Assert.Null(Of(null, null, null, (Signal.EtCO2, Every(1, 0, [.. Enumerable.Repeat(4.5, 100)])),
            (Signal.RespiratoryRate, Every(1, 0, [.. Enumerable.Repeat(12.0, 100)]))).Breaths);
        Assert.Null(Of(10, null, null, (Signal.EtCO2, Every(1, 0, [.. Enumerable.Repeat(4.5, 100)]))).Breaths);

        static double Breaths(int seconds) => Of(60, null, null,
            (Signal.EtCO2, Every(1, 0, [.. Enumerable.Repeat(5.0, 60), .. Enumerable.Repeat(4.5, seconds), .. Enumerable.Repeat(0.9, 10),
                .. Enumerable.Repeat(4.5, 20), .. Enumerable.Repeat(0.2, 60)])),
            (Signal.RespiratoryRate, Every(1, 0, [.. Enumerable.Repeat(12.0, 200)]))).Breaths!.Value;
    }
}
