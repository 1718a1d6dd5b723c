using System.Collections.Immutable;

namespace Outcomes.Synthetic.Export;

/// <summary>Adds up the truth while the files are written.</summary>
internal sealed class TruthBuilder(SynthesisOptions options)
{
    private readonly SortedDictionary<Plant, ImmutableArray<string>.Builder> _planted = [];
    private readonly SortedDictionary<DateOnly, (int Cases, Tally FirstPass)> _months =
        new(Enumerable.Range(0, options.Months).ToDictionary(options.FirstMonth.AddMonths, _ => (0, default(Tally))));
    private readonly int[] _missing = new int[ProcedureColumns.All.Length];
    private Tally _firstBefore, _firstAfter, _videoBefore, _videoAfter, _winter, _otherMonths;
    private int _accepted, _superseded, _quarantined, _attempts, _attemptsQuarantined;

    public void Add(Procedure procedure, string[] row)
    {
        for (var i = 0; i < row.Length; i++)
            if (ProcedureColumns.All[i].MissingPerMille > 0 && row[i] is "" or "-" or "unknown" or "not recorded")
                _missing[i]++;

        var plant = procedure.Planted;
        if (plant is { } planted)
        {
            if (!_planted.TryGetValue(planted, out var keys))
                _planted[planted] = keys = ImmutableArray.CreateBuilder<string>();
            keys.Add(procedure.RecordId);
        }
        _superseded += plant is Plant.ExactDuplicate or Plant.LateCorrection ? 1 : 0;
        _attemptsQuarantined += plant is Plant.OrphanAttempt ? 1 : 0;
        if (Dirt.Quarantines(plant))
        {
            _quarantined++;
            _attemptsQuarantined += procedure.Course.Attempts.Length;
            return;
        }
        _accepted++;
        _attempts += procedure.Course.Attempts.Length;
        Count(procedure);
    }

    private void Count(Procedure procedure)
    {
        var first = procedure.Course.Attempts[0];
        var month = new DateOnly(procedure.Date.Year, procedure.Date.Month, 1);
        var (cases, monthFirst) = _months[month];
        if (procedure.Patient is { Urgency: not "planned", AgeYears: >= 16 })
        {
            var changed = Practice.IsChanged(procedure.Date);
            if (Course.IsIntubation(first))
            {
                var met = first.Outcome == "success";
                monthFirst = monthFirst.With(met);
                (_firstBefore, _firstAfter) = changed ? (_firstBefore, _firstAfter.With(met)) : (_firstBefore.With(met), _firstAfter);
            }
            var video = first.Device == "video";
            (_videoBefore, _videoAfter) = changed ? (_videoBefore, _videoAfter.With(video)) : (_videoBefore.With(video), _videoAfter);
            CountSaturation(procedure);
        }
        _months[month] = (cases + 1, monthFirst);
    }

    private void CountSaturation(Procedure procedure)
    {
        if (procedure.Patient.ArrestBefore || procedure.Observations.SpO2Pre < 90)
            return;
        var below = procedure.Observations.SpO2Min < 90;
        if (Practice.IsWinter(procedure.Date))
            _winter = _winter.With(below);
        else
            _otherMonths = _otherMonths.With(below);
    }

    public Truth Build() => new(options)
    {
        FirstPassBefore = _firstBefore,
        FirstPassAfter = _firstAfter,
        VideoFirstBefore = _videoBefore,
        VideoFirstAfter = _videoAfter,
        SpO2Below90Winter = _winter,
        SpO2Below90OtherMonths = _otherMonths,
        Months = [.. _months.Select(month => new MonthTruth(month.Key, month.Value.Cases, month.Value.FirstPass))],
        Procedures = new(_accepted + _superseded + _quarantined, _accepted, _superseded, _quarantined),
        Attempts = new(_attempts + _attemptsQuarantined, _attempts, 0, _attemptsQuarantined),
        MissingCells = [.. ProcedureColumns.All.Select((column, i) => (column.Heading, Cells: _missing[i])).Where(x => x.Cells > 0)],
        Planted = _planted.ToImmutableSortedDictionary(x => x.Key, x => x.Value.ToImmutable()),
    };
}
