using System.Collections.Immutable;
using System.Runtime.ExceptionServices;
using Outcomes.Ingestion.Identifiers;
using Outcomes.Ingestion.Mapping;
using Outcomes.Ingestion.Reading;
using Outcomes.Ingestion.Store;
using Outcomes.Ingestion.Traces;
using Outcomes.Records;

namespace Outcomes.Ingestion;

/// <summary>
/// One pass over a file by workers that take turns: block k goes to worker k modulo their number. Reading, numbering rows and
/// logging happen in file order under the turn; parsing and Parquet run free. So no output depends on timing.
/// </summary>
internal sealed class SharedPass : IDisposable
{
    private readonly object _gate = new();
    private readonly string _folder;
    private readonly string _file;
    private readonly SourceHeader _header;
    private readonly RowPlan _plan;
    private readonly LineMap? _lines;
    private readonly BlockReader _reader;
    private readonly FileStream _index;
    private readonly TraceWriter? _traces;
    private readonly List<CellFinding> _findings = [];
    private readonly Sightings _sightings;
    private readonly ColumnEvidence _evidence;
    private (int Block, ExceptionDispatchInfo Error)? _failure;
    private int _read;
    private int _turn;
    private readonly int _eventDate;
    private bool _ended;

    public SharedPass(
        string folder, string file, SourceHeader header, RowPlan plan, FileStream source, int blockSize, LineMap? lines = null)
    {
        (_folder, _file, _header, _plan, _lines) = (folder, file, header, plan, lines);
        _sightings = new Sightings(plan.Screen.Asked.Length);
        _evidence = new ColumnEvidence(plan.Screen.Asked.Length);
        _eventDate = plan.Fields.ToList().FindIndex(field => field is { Name: Keys.EventDate, Type: FieldType.Date });
        _reader = new BlockReader(source, file, header.Separator, blockSize);
        _reader.Skip(header.DataOffset);
        _index = new FileStream(
            Path.Combine(folder, IngestedSource.IndexFile), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        if (plan.Samples is not null) _traces = new TraceWriter(folder, file, plan, source.Length);
    }

    public int WorkerCount { get; set; } = 1;

    public int Rows { get; private set; }

    public int BlankRows { get; private set; }

    public int OutsideRows { get; private set; }

    /// <summary>The line in its origin of every row of a mended file; empty for an export.</summary>
    public List<int> Origins { get; } = [];

    public byte[] FileHash { get; private set; } = [];

    public IReadOnlyCollection<CellFinding> Findings => _findings;

    /// <summary>Columns that are not read and that as a whole may identify people.</summary>
    public ImmutableArray<int> Withheld { get; private set; } = [];

    /// <summary>Judges what the whole file showed of identifiers: refuses it, or adds the findings on columns.</summary>
    /// <exception cref="Failure">The file identifies, or seems to identify, people (exit 4).</exception>
    public void Judge()
    {
        if (ScreenFindings.Refusal(ScreenFindings.Grounds(_sightings, _evidence, _plan.Screen), _plan.Screen,
            _plan.Shown, _file) is { } refusal)
            throw refusal;
        if (_traces is not null)
        {
            _traces.Finish();
            _findings.AddRange(_traces.Findings);
        }

        var columns = ScreenFindings.Findings(_sightings, _evidence, _plan.Screen).ToList();
        _findings.AddRange(columns);
        Withheld = ScreenFindings.Withheld(columns, _plan.Screen);
    }

    public void ThrowIfFailed() => _failure?.Error.Throw();

    public void Work(int worker)
    {
        var block = -1;
        try
        {
            var rows = new RowReader(_plan, _header.Separator, _file, _evidence, _lines);
            ParquetTable? table = null, attempts = null;
            ReasonsTable? reasons = null;
            try
            {
                byte[] buffer = [];
                while (Take(worker, ref buffer, out block) is { } taken)
                {
                    rows.Read(taken);
                    InTurn(block, () => Log(rows));
                    Store(rows, worker, ref table, ref attempts, ref reasons);
                }
            }
            finally
            {
                table?.Dispose();
                attempts?.Dispose();
                reasons?.Dispose();
            }
        }
        catch (Exception e)
        {
            Fail(block, e);
        }
    }

    public void Dispose()
    {
        _reader.Dispose();
        _index.Dispose();
        _traces?.Dispose();
    }

    private Block? Take(int worker, ref byte[] buffer, out int block)
    {
        lock (_gate)
        {
            while (!_ended && _failure is null && _read % WorkerCount != worker) Monitor.Wait(_gate);
            block = _read;
            if (_ended || _failure is not null) return null;
            var next = _reader.Next(ref buffer);
            if (next is null)
            {
                _ended = true;
                FileHash = _reader.Hash();
            }
            else
            {
                _read++;
            }

            Monitor.PulseAll(_gate);
            return next;
        }
    }

    private void InTurn(int block, Action action)
    {
        lock (_gate)
        {
            while (_turn != block && !(_failure?.Block < block)) Monitor.Wait(_gate);
            if (_turn != block) throw new OperationCanceledException();
            action();
            _turn++;
            Monitor.PulseAll(_gate);
        }
    }

    // A failure in an earlier block wins, so that the same file always fails with the same message.
    private void Fail(int block, Exception e)
    {
        lock (_gate)
        {
            if (e is not OperationCanceledException && (_failure is null || block < _failure.Value.Block))
                _failure = (block, ExceptionDispatchInfo.Capture(e));
            Monitor.PulseAll(_gate);
        }
    }

    private void Log(RowReader rows)
    {
        // Samples are not rows of the ledger one by one: their rows are summed by record.
        if (_traces is not null) _traces.Add(rows);
        else rows.Rebase(Rows);
        _sightings.Add(rows.Screen.Found, Rows);
        for (var column = 0; column < _plan.Screen.Whole.Length; column++) _evidence.Add(column, rows.Screen.Values(column));
        if (_eventDate >= 0) _evidence.AddEvents(rows.Rows.Columns[_eventDate].Ints.AsSpan(0, rows.Rows.Rows));
        Rows += rows.Index.Count;
        BlankRows += rows.BlankRows;
        OutsideRows += rows.OutsideRows;
        if (_traces is not null) return;
        Origins.AddRange(rows.Origins);
        RowIndex.Append(_index, rows.Index);
        _findings.AddRange(rows.Findings);
    }

    private void Store(RowReader rows, int worker, ref ParquetTable? table, ref ParquetTable? attempts, ref ReasonsTable? reasons)
    {
        if (_traces is not null) return;
        table ??= new ParquetTable(Path.Combine(_folder, $"rows-{worker}.parquet"), _plan.Fields, wideAttempts: false);
        table.Write(rows.Rows);
        if (_plan.Attempts.Length > 0)
        {
            attempts ??= new ParquetTable(Path.Combine(_folder, $"attempts-{worker}.parquet"), _plan.AttemptFields, wideAttempts: true);
            attempts.Write(rows.Attempts, (rows.Rows.Columns[_plan.Keys.RecordId], rows.AttemptOf));
        }

        if (rows.Rows.Reasons.Count + rows.Attempts.Reasons.Count == 0) return;
        reasons ??= new ReasonsTable(Path.Combine(_folder, $"reasons-{worker}.parquet"));
        if (rows.Rows.Reasons.Count > 0)
            reasons.Write(rows.Rows, _plan.RowsTable, _plan.Keys.AttemptNo < 0 ? null : rows.Rows.Columns[_plan.Keys.AttemptNo].Ints);
        if (rows.Attempts.Reasons.Count > 0) reasons.Write(rows.Attempts, FieldDictionary.Attempt);
    }
}
