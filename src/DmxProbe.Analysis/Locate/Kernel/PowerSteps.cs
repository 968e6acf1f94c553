namespace DmxProbe.Analysis.Locate;

/// <summary>The steps of a prediction, each channel scaled to a maximum of 1, ready to be raised to a power.</summary>
internal sealed class PowerSteps
{
    private readonly double[][] _values;
    private readonly double[][] _logs;
    private readonly bool[] _hasLogs;
    private Prediction? _prediction;

    public PowerSteps(int channels)
    {
        _values = [.. Enumerable.Range(0, channels).Select(_ => Array.Empty<double>())];
        _logs = [.. Enumerable.Range(0, channels).Select(_ => Array.Empty<double>())];
        _hasLogs = new bool[channels];
    }

    public int Count => _prediction?.Count ?? 0;

    public ReadOnlySpan<int> At => _prediction is null ? default : _prediction.At.AsSpan(0, Count);

    public void Load(Prediction prediction)
    {
        _prediction = prediction;
        for (int c = 0; c < _values.Length; c++)
        {
            if (_values[c].Length < prediction.Count)
            {
                _values[c] = new double[prediction.Count * 2];
                _logs[c] = new double[prediction.Count * 2];
            }

            double scale = prediction.Peak[c] > 0 ? 1 / prediction.Peak[c] : 0;
            for (int i = 0; i < prediction.Count; i++)
            {
                _values[c][i] = prediction.Value[c][i] * scale;
            }

            _hasLogs[c] = false;
        }
    }

    /// <summary>Raises a channel; false where it is dark throughout.</summary>
    public bool Raise(int channel, double gamma, Span<double> result)
    {
        if (_prediction is null || _prediction.Peak[channel] <= 0)
        {
            return false;
        }

        ReadOnlySpan<double> values = _values[channel].AsSpan(0, Count);
        switch (gamma)
        {
            case 1:
                values.CopyTo(result);
                break;
            case 2:
                for (int i = 0; i < values.Length; i++)
                {
                    result[i] = values[i] * values[i];
                }

                break;
            case 0.5:
                for (int i = 0; i < values.Length; i++)
                {
                    result[i] = Math.Sqrt(values[i]);
                }

                break;
            default:
                Lanes.Exponentials(Logs(channel), gamma, result);
                break;
        }

        return true;
    }

    private ReadOnlySpan<double> Logs(int channel)
    {
        Span<double> logs = _logs[channel].AsSpan(0, Count);
        if (!_hasLogs[channel])
        {
            for (int i = 0; i < logs.Length; i++)
            {
                logs[i] = Math.Log(Math.Max(_values[channel][i], 1e-12));
            }

            _hasLogs[channel] = true;
        }

        return logs;
    }
}
