using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using Outcomes.Ingestion.Parsing;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Records;

namespace Outcomes.Ingestion.Traces;

/// <summary>
/// Takes the rows of a trace file block by block, in file order, and keeps their samples in parts by record. Memory holds a few sums a
/// record and one block, however many rows there are; in whatever order they stand, the sorted parts are the same.
/// </summary>
internal sealed class TraceWriter : IDisposable
{
    private readonly string _folder;
    private readonly string _file;
    private readonly RowPlan _plan;
    private readonly SamplePlan _samples;
    private readonly (double Low, double High)[] _ranges;
    private readonly FileStream[] _parts;
    private readonly Dictionary<string, int> _records = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int>.AlternateLookup<ReadOnlySpan<char>> _byText;
    private readonly List<Sums> _sums = [];
    private readonly Dictionary<(int Column, CellRule Rule, string Field), CellFinding> _findings = [];
    private readonly Dictionary<string, (double Multiply, double Divide)?[]> _units = new(StringComparer.Ordinal);
    private readonly StoredSample[] _one = new StoredSample[1];
    private readonly int _ok;
    private int _last = -1;

    public TraceWriter(string folder, string file, RowPlan plan, long length)
    {
        (_folder, _file, _plan, _samples) = (folder, file, plan, plan.Samples!);
        _byText = _records.GetAlternateLookup<ReadOnlySpan<char>>();
        _ranges = [.. _samples.Fields.Select(field => ((double)(field.Hard?.Minimum ?? decimal.MinValue),
            (double)(field.Hard?.Maximum ?? decimal.MaxValue)))];
        _ok = _samples.Quality < 0 ? 0 : plan.Fields[_samples.Quality].Allowed.IndexOf("ok");
        var parts = (int)Math.Clamp((length + TraceFile.PartBytes - 1) / TraceFile.PartBytes, 1, TraceFile.MostParts);
        _parts = [.. Enumerable.Range(0, parts)
            .Select(part => new FileStream(TraceFile.Part(folder, part), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16))];
    }

    /// <summary>What was wrong with cells: one finding a column and rule, with the first line and the number of rows.</summary>
    public IEnumerable<CellFinding> Findings =>
        _findings.Values.OrderBy(finding => finding.Line).ThenBy(finding => finding.FileColumn).ThenBy(finding => finding.Rule);

    /// <summary>Adds the rows of a block; the blocks before it have been added.</summary>
    public void Add(RowReader rows)
    {
        var (batch, index) = (rows.Rows, rows.Index);
        // A ragged row has no cells: rows and index then differ in number, and a row's own number in the block tells which is which.
        for (int i = 0, at = 0; i < index.Count; i++)
        {
            var has = at < batch.Rows && batch.Row[at] == i;
            AddRow(batch, has ? at : -1, index, i);
            if (has) at++;
        }

        foreach (var finding in rows.Findings) Note(finding);
    }

    /// <summary>Sorts the parts and writes the sums.</summary>
    public void Finish()
    {
        var samples = new SamplePart();
        for (var part = 0; part < _parts.Length; part++)
        {
            _parts[part].Dispose();
            samples.Read(TraceFile.Part(_folder, part));
            samples.Sort();
            samples.Write(TraceFile.Part(_folder, part));
        }

        TraceFile.Write(_folder, [.. _records.Select(pair => _sums[pair.Value].Of(pair.Key))]);
    }

    public void Dispose()
    {
        foreach (var part in _parts) part.Dispose();
    }

    private void AddRow(TableBatch batch, int at, RowIndexBlock index, int i)
    {
        var record = Record(index.Key(i));
        ref var sums = ref CollectionsMarshal.AsSpan(_sums)[record];
        if (sums.Rows++ == 0) sums.Line = index.Line[i];
        var held = at < 0 || (index.Marks[i] & RowMarks.Held) != 0;
        if (held)
        {
            if (sums.Held++ == 0)
                (sums.HeldLine, sums.HeldRule) = (index.Line[i], at < 0 ? CellRules.Id(CellRule.RaggedRow) : Refusing(batch, at));
            return;
        }

        var quality = _samples.Quality < 0 ? _ok : batch.Columns[_samples.Quality].Ints[at];
        var good = quality == _ok || quality == ColumnBuffer.Missing;
        var ms = (int)Math.Round(batch.Columns[_samples.Offset].Doubles[at] * 1000, MidpointRounding.ToEven);
        var fault = (index.Marks[i] & RowMarks.CellFault) != 0;
        if (_samples.Signal >= 0)
            fault |= AddLong(batch, at, index.Line[i], record, ms, good);
        else
            // A blank cell beside other signals is not a row of this one: a cuff measures now and then, and the oximeter all the time.
            foreach (var (buffer, signal) in _samples.Wide)
                if (batch.Columns[buffer].Doubles[at] is var value && !double.IsNaN(value))
                    Store(record, signal, ms, good ? value : double.NaN);
        sums = ref CollectionsMarshal.AsSpan(_sums)[record];
        if (fault && sums.Faults++ == 0) sums.FaultLine = index.Line[i];
        if (sums.Samples > TraceFile.MostSamples)
            throw new Failure(ExitCode.Input, string.Create(CultureInfo.InvariantCulture,
                $"one record has more than {TraceFile.MostSamples} samples here, more than a procedure can have; "
                    + $"check that the column mapped to `record_id` names the procedure"), _file, index.Line[i], "trace_too_long");
    }

    private bool AddLong(TableBatch batch, int at, int line, int record, int ms, bool good)
    {
        var signal = (Signal)batch.Columns[_samples.Signal].Ints[at];
        var value = batch.Columns[_samples.Value].Doubles[at];
        var rule = CellRule.None;
        if (!double.IsNaN(value) && _samples.Unit >= 0 && batch.Columns[_samples.Unit].Text(at) is { IsEmpty: false } unit)
        {
            if (Conversion(unit, signal) is not var (multiply, divide)) (rule, value) = (CellRule.NotAllowed, double.NaN);
            else if ((multiply, divide) != (1, 1)) value = (double)((decimal)value * (decimal)multiply / (decimal)divide);
        }

        if (value < _ranges[(int)signal].Low || value > _ranges[(int)signal].High) (rule, value) = (CellRule.OutOfRange, double.NaN);
        if (rule != CellRule.None)
        {
            var buffer = rule == CellRule.NotAllowed ? _samples.Unit : _samples.Value;
            Note(new CellFinding(-1, line, _plan.Columns.FirstOrDefault(column => column.Buffer == buffer).FileColumn,
                rule == CellRule.NotAllowed ? "unit" : SamplePlan.Names[(int)signal], rule));
        }

        Store(record, signal, ms, good ? value : double.NaN);
        return rule != CellRule.None;
    }

    private void Store(int record, Signal signal, int ms, double value)
    {
        CollectionsMarshal.AsSpan(_sums)[record].Samples++;
        _one[0] = StoredSample.Of(record, signal, ms, value);
        _parts[record % _parts.Length].Write(MemoryMarshal.AsBytes(_one.AsSpan()));
    }

    private (double Multiply, double Divide)? Conversion(ReadOnlySpan<byte> unit, Signal signal)
    {
        Span<char> text = stackalloc char[Encoding.UTF8.GetMaxCharCount(Math.Min(unit.Length, 64))];
        if (unit.Length > 64) return null;
        text = text[..Encoding.UTF8.GetChars(unit, text)];
        if (!_units.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(text, out var conversions))
        {
            var name = text.ToString();
            conversions = [.. _samples.Fields.Select(field => Units.Between(name, field.Unit!))];
            // A file of nonsense must not fill memory with its words.
            if (_units.Count < 1000) _units.Add(name, conversions);
        }

        return conversions[(int)signal];
    }

    // Rows of one record usually stand together.
    private int Record(ReadOnlySpan<byte> key)
    {
        if (_last >= 0 && key.SequenceEqual(_sums[_last].Utf8)) return _last;
        Span<char> text = key.Length <= 200 ? stackalloc char[200] : new char[key.Length];
        text = text[..Encoding.UTF8.GetChars(key, text)];
        if (!_byText.TryGetValue(text, out _last))
        {
            _last = _sums.Count;
            _records.Add(text.ToString(), _last);
            _sums.Add(new Sums { Utf8 = key.ToArray() });
        }

        return _last;
    }

    private string Refusing(TableBatch batch, int at) => CellRules.Id(
        batch.Columns[_plan.Keys.RecordId].Text(at).IsEmpty ? CellRule.Missing
        : double.IsNaN(batch.Columns[_samples.Offset].Doubles[at]) ? CellRule.NotNumber
        : CellRule.NotAllowed);

    private void Note(CellFinding finding)
    {
        if (finding.Rule == CellRule.Implausible) return;
        ref var known =
            ref CollectionsMarshal.GetValueRefOrAddDefault(_findings, (finding.FileColumn, finding.Rule, finding.Field), out var exists);
        known = exists ? known with { Count = known.Count + finding.Count } : finding with { Row = -1 };
    }

    private struct Sums
    {
        public byte[] Utf8;
        public int Line;
        public long Rows;
        public long Held;
        public int HeldLine;
        public string? HeldRule;
        public long Faults;
        public int FaultLine;
        public long Samples;

        public readonly TraceRows Of(string key) => new(key, Line, Rows, Held, HeldLine, HeldRule ?? "", Faults, FaultLine);
    }
}
