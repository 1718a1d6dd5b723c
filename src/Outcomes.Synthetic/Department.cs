using Bogus;

namespace Outcomes.Synthetic;

/// <summary>An invented department that intubates in emergencies. Nobody in it is real, and nothing in it is a benchmark.</summary>
public static class Department
{
    /// <summary>Its procedures by date; made as they are asked for, a month at a time.</summary>
    public static IEnumerable<Procedure> Invent(SynthesisOptions options)
    {
        var volumes = Volumes.Of(options.Checked());
        return Enumerable.Range(0, options.Months).SelectMany(month => MonthOf(options, volumes, month));
    }

    private static IEnumerable<Procedure> MonthOf(SynthesisOptions options, Volumes volumes, int month) =>
        Enumerable.Range(0, volumes.Asked[month])
            .Select(number => One(options, month, number, Planting.At(month, volumes.Own[month], number)))
            .OrderBy(procedure => procedure.Date);

    private static Procedure One(SynthesisOptions options, int month, int number, Plant? plant)
    {
        var monthNumber = Volumes.MonthNumber(options, month);
        var draw = new Randomizer(Seeds.For(options.Seed, Seeds.Purpose.Facts, monthNumber, number));
        var first = options.FirstMonth.AddMonths(month);
        var date = first.AddDays(draw.Int(0, DateTime.DaysInMonth(first.Year, first.Month) - 1));
        var patient = Patients.Draw(draw, plant);
        var course = Courses.Draw(draw, date, patient, plant);
        var preparation = Preparations.Draw(draw, patient, plant);
        var observations = Physiology.Draw(draw, date, patient, course, plant);
        var entry = new Entry(draw.Weighted((3, "operator"), (3, "assistant"), (4, "observer")),
            draw.Chance(30) ? draw.Int(80, 200) : draw.Int(0, 24));
        var withTimes = Timings.InAttempts(new Randomizer(Seed(Seeds.Purpose.Timing)), Physiology.InAttempts(draw, course, observations),
            patient, out var timing);

        // Streams of their own: what is drawn here changes nothing that was drawn before it.
        var foresight = Foresights.Draw(new Randomizer(Seed(Seeds.Purpose.Foresight)), patient, course, observations);
        var last = new Randomizer(Seed(Seeds.Purpose.Sequel));
        var sequel = Sequels.Draw(last, patient, preparation, foresight, observations);
        return new Procedure(RecordIds.For(options.Seed, monthNumber, number), date, plant, patient, preparation, withTimes,
            plant is null
                ? observations with { Complications = Sequels.Complications(last, patient, observations.Complications) }
                : observations, entry)
        {
            Foresight = foresight,
            Sequel = sequel,
            Timing = timing,
            Precautions = Infections.Draw(new Randomizer(Seed(Seeds.Purpose.Precautions)), date, patient),
        };

        int Seed(Seeds.Purpose purpose) => Seeds.For(options.Seed, purpose, monthNumber, number);
    }
}
