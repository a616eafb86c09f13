import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):

    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name='House',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('document', models.JSONField()),
                ('version', models.PositiveIntegerField(default=0)),
                ('gone', models.BooleanField(default=False)),
                ('slug', models.SlugField(max_length=80, unique=True)),
                ('edition', models.PositiveIntegerField(default=0)),
                ('created_at', models.DateTimeField()),
                ('changed_at', models.DateTimeField()),
                ('changed_by', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
            ],
            options={
                'abstract': False,
            },
        ),
        migrations.CreateModel(
            name='Change',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('at', models.DateTimeField(db_index=True)),
                ('says', models.CharField(max_length=300)),
                ('undone', models.BooleanField(default=False)),
                ('undoes', models.ForeignKey(null=True, on_delete=django.db.models.deletion.PROTECT, related_name='+', to='record.change')),
                ('who', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('house', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='changes', to='record.house')),
            ],
            options={
                'ordering': ['-pk'],
            },
        ),
        migrations.CreateModel(
            name='Window',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('document', models.JSONField()),
                ('version', models.PositiveIntegerField(default=0)),
                ('gone', models.BooleanField(default=False)),
                ('number', models.CharField(max_length=16)),
                ('order', models.PositiveIntegerField()),
                ('house', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='windows', to='record.house')),
            ],
            options={
                'ordering': ['order', 'pk'],
            },
        ),
        migrations.CreateModel(
            name='Reading',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('which', models.CharField(max_length=8)),
                ('kind', models.CharField(default='mass', max_length=8)),
                ('value_kg', models.FloatField()),
                ('state', models.CharField(max_length=32)),
                ('at', models.DateTimeField()),
                ('note', models.TextField(blank=True)),
                ('change', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='readings', to='record.change')),
                ('who', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='+', to=settings.AUTH_USER_MODEL)),
                ('window', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='readings', to='record.window')),
            ],
            options={
                'ordering': ['pk'],
            },
        ),
        migrations.CreateModel(
            name='Family',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('document', models.JSONField()),
                ('version', models.PositiveIntegerField(default=0)),
                ('gone', models.BooleanField(default=False)),
                ('key', models.CharField(max_length=64)),
                ('order', models.PositiveIntegerField()),
                ('house', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='families', to='record.house')),
            ],
            options={
                'ordering': ['order', 'pk'],
                'constraints': [models.UniqueConstraint(condition=models.Q(('gone', False)), fields=('house', 'key'), name='one_family_of_a_key')],
            },
        ),
        migrations.CreateModel(
            name='Revision',
            fields=[
                ('id', models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name='ID')),
                ('kind', models.CharField(max_length=8)),
                ('row', models.BigIntegerField()),
                ('key', models.CharField(max_length=80)),
                ('version', models.PositiveIntegerField()),
                ('before', models.JSONField(null=True)),
                ('after', models.JSONField(null=True)),
                ('change', models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name='revisions', to='record.change')),
            ],
            options={
                'ordering': ['pk'],
                'constraints': [models.UniqueConstraint(fields=('kind', 'row', 'version'), name='one_revision_a_version')],
            },
        ),
        migrations.AddConstraint(
            model_name='window',
            constraint=models.UniqueConstraint(condition=models.Q(('gone', False)), fields=('house', 'number'), name='one_window_of_a_number'),
        ),
    ]
